#include "tests/src/pipeline/assess_survey.hpp"

#include "src/job/profile.hpp"

namespace linewood::testing {
namespace {

namespace fs = std::filesystem;

class SilentMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

}  // namespace

AssessJob plain_job(const fs::path& in, const fs::path& out) {
    AssessJob job;
    job.inputs.dataset = in.string();
    job.out = out;
    job.format = output_format_of_path(out).value_or(OutputFormat::geojson);
    job.criteria_json = profile_to_json(Profile{});
    job.tables = WoodTables::built_in();
    return job;
}

AssessedSurvey::AssessedSurvey(const Survey& survey, const Change& change)
    : job_{folder_ / "in.gpkg", folder_ / "out.gpkg"} {
    write_survey(job_.input, survey);
    run(change);
}

AssessedSurvey::AssessedSurvey(const fs::path& in, const Change& change)
    : job_{in, folder_ / "out.gpkg"} {
    run(change);
}

void AssessedSurvey::run(const Change& change) {
    AssessJob job = plain_job(job_.input, job_.out);
    if (change) {
        change(job);
    }
    job_.out = job.out;
    SilentMonitor monitor;
    summary_ = run_assessment(job, monitor);
}

const Table& AssessedSurvey::layer(const std::string& name) const {
    const auto known = layers_.find(name);
    if (known != layers_.end()) {
        return known->second;
    }
    return layers_.emplace(name, read_table(layer_path(name), layer_of(name))).first->second;
}

fs::path AssessedSurvey::layer_path(const std::string& name) const {
    if (!fs::is_directory(job_.out)) {
        return job_.out;
    }
    for (const char* const ending : {".geojson", ".fgb", ".shp", ".csv"}) {
        if (fs::exists(job_.out / (name + ending))) {
            return job_.out / (name + ending);
        }
    }
    return job_.out / name;
}

std::string AssessedSurvey::layer_of(const std::string& name) const {
    return fs::is_directory(job_.out) ? "" : name;
}

std::vector<std::string> AssessedSurvey::statements(std::string_view item,
                                                    std::string_view about) const {
    std::vector<std::string> values;
    for (const Row& row : where(layer("run"), "item", item)) {
        if (about.empty() || row.at("layer") == about) {
            values.push_back(row.at("value").is_null() ? "" : row.at("value").get<std::string>());
        }
    }
    return values;
}

}  // namespace linewood::testing
