#include "src/corridor/corridor_output.hpp"

#include <filesystem>

#include <fmt/format.h>

#include "src/job/cautions.hpp"
#include "src/job/checksum.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"
#include "src/pipeline/output_fields.hpp"

namespace linewood {
namespace {

std::string shown_name(const Source& source) {
    std::filesystem::path name{source.dataset()};
    if (!name.has_filename()) {
        name = name.parent_path();
    }
    return name.filename().string();
}

}  // namespace

void refuse_clashes(const CorridorJob& job,
                    const Source& source,
                    const std::vector<std::filesystem::path>& more_read) {
    std::vector<std::filesystem::path> read = source.files();
    read.insert(read.end(), more_read.begin(), more_read.end());
    refuse_to_replace("--out", job.out, read);
    if (job.sheets.empty()) {
        return;
    }
    refuse_to_replace("--sheets", job.sheets, read);
    const auto plain = [](const std::filesystem::path& p) {
        std::filesystem::path name = std::filesystem::absolute(p).lexically_normal();
        return name.has_filename() ? name : name.parent_path();
    };
    if (plain(job.sheets) == plain(job.out) || same_file(job.sheets, job.out)) {
        throw JobError{"--sheets " + job.sheets.string() +
                       " is where --out goes; name another folder"};
    }
}

LayerPlan own_layer(std::string name,
                    std::vector<Field> fields,
                    GeometryType geometry,
                    const AssessedData& data,
                    std::string description) {
    LayerPlan plan;
    plan.name = std::move(name);
    plan.added = std::move(fields);
    plan.geometry = geometry;
    plan.crs_wkt = geometry.kind == GeometryKind::none ? std::string{} : data.poles_crs_wkt;
    plan.description = std::move(description);
    return plan;
}

LayerWriter& add_findings_layer(OutputDataset& dataset, const AssessedData& data) {
    return dataset.add_layer(own_layer("findings",
                                       finding_fields(),
                                       {GeometryKind::point, false, false, false},
                                       data,
                                       "What is doubtful in the input"));
}

LayerWriter& add_run_layer(OutputDataset& dataset) {
    LayerPlan plan;
    plan.name = "run";
    plan.added = run_fields();
    plan.description = "What made this dataset, and cautions";
    return dataset.add_layer(plan);
}

std::vector<RunStatement> corridor_statements(
    const AssessedData& data,
    const std::vector<std::pair<std::string, std::string>>& settings,
    const std::vector<LayerCount>& out) {
    std::vector<RunStatement> s;
    s.push_back({"tool", "", "linewood " + std::string{tool_version()}});
    for (const auto& [item, value] : settings) {
        s.push_back({item, "", value});
    }
    s.push_back({"distances", "", data.frame->name()});
    s.push_back({"assessed_by", "", data.run.tool});
    s.push_back({"criteria_name", "", data.run.criteria_name});
    s.push_back({"criteria_sha256", "", data.run.criteria_sha256});
    s.push_back({"input", "", shown_name(data.source)});
    for (const std::filesystem::path& file : data.source.files()) {
        std::error_code ignored;
        const auto size = std::filesystem::file_size(file, ignored);
        s.push_back(
            {"input_file",
             "",
             fmt::format(
                 "{}, {} bytes, sha256 {}", file.filename().string(), size, sha256_of_file(file))});
    }
    s.push_back({"count_in", "poles", std::to_string(data.pole_rows)});
    s.push_back({"count_in", "spans", std::to_string(data.span_rows)});
    for (const LayerCount& c : out) {
        s.push_back({"count_out", c.layer, std::to_string(c.count)});
    }
    for (const std::string_view caution : kCautions) {
        s.push_back({"caution", "", std::string{caution}});
    }
    return s;
}

std::string made_by_text(const AssessedData& data) {
    return fmt::format("linewood {}; criteria {} ({}); read from {}",
                       tool_version(),
                       data.run.criteria_name,
                       data.run.criteria_sha256,
                       shown_name(data.source));
}

}  // namespace linewood
