#include "src/assessed/assessed_run.hpp"

#include <string_view>

#include "geo/io/data_error.hpp"
#include "geo/io/feature_reader.hpp"
#include "src/job/job_error.hpp"
#include "src/job/profile.hpp"
#include "src/pipeline/earlier_run.hpp"

namespace linewood {
namespace {

constexpr std::string_view kAssessFirst =
    "; assess it first: linewood assess IN --out OUT.gpkg, then give OUT.gpkg to this command";

/// The limit in the profile that the run wrote down; nothing where it cannot be read.
std::optional<double> limit_of(const std::string& profile_json) {
    try {
        return read_profile(profile_json).criteria.governing_strength_min * 100.0;
    } catch (const JobError&) {
        return std::nullopt;  // of another version: the limit is then not known
    }
}

void take_input(AssessedRun& run,
                const std::string& item,
                const std::string& layer,
                const std::string& value) {
    for (std::size_t i = 0; i < run.mapped.size(); ++i) {
        if (layer != name_of(static_cast<InputLayer>(i))) {
            continue;
        }
        if (item == "input_field") {
            run.mapped[i] = true;
        } else if (item == "input_mapping") {
            run.mappings[i].push_back(value);
        } else if (item == "input_fids") {
            run.fids_kept[i] = value == "kept";
        }
    }
}

void take(AssessedRun& run, const std::string& item, const std::string& value) {
    if (item == "tool") {
        run.tool = value;
    } else if (item == "job_units") {
        run.units = value == "si" ? UnitSystem::si : UnitSystem::us;
    } else if (item == "criteria_name") {
        run.criteria_name = value;
    } else if (item == "criteria_sha256") {
        run.criteria_sha256 = value;
    } else if (item == "criteria_profile") {
        run.strength_limit_pct = limit_of(value);
    }
}

}  // namespace

AssessedRun read_assessed_run(const Source& source) {
    if (!has_own_run(source)) {
        throw DataError{
            source.dataset(),
            "",
            "was not assessed: it has no layer run of this tool" + std::string{kAssessFirst}};
    }
    const LayerSchema& schema = source.schema("run");
    const auto item = schema.field_index("item");
    const auto layer = schema.field_index("layer");
    const auto value = schema.field_index("value");
    AssessedRun run;
    if (item && layer && value) {
        ReadOptions options;
        options.geometry = false;
        FeatureReader reader{source, schema.name, options};
        FeatureBatch batch;
        while (reader.next(batch)) {
            for (std::size_t row = 0; row < batch.size(); ++row) {
                const std::string what = batch.text(row, *item);
                const std::string text = batch.text(row, *value);
                take(run, what, text);
                take_input(run, what, batch.text(row, *layer), text);
            }
        }
    }
    if (run.criteria_sha256.empty()) {
        throw DataError{source.dataset(),
                        "run",
                        "does not say by which criteria: the dataset was not assessed" +
                            std::string{kAssessFirst}};
    }
    return run;
}

}  // namespace linewood
