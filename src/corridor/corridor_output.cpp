#include "src/corridor/corridor_output.hpp"

#include <filesystem>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "src/job/cautions.hpp"
#include "src/job/job_error.hpp"
#include "src/job/place_clash.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/report/figures.hpp"
#include "src/style/stored_styles.hpp"

namespace linewood {
namespace {

/// @throws JobError where the output or the sheets would take the place of what is read, or of each other.
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

/// The last layers of every dataset.
LayerWriter& add_findings_layer(OutputDataset& dataset, const AssessedData& data) {
    return dataset.add_layer(own_layer("findings",
                                       finding_fields(),
                                       {GeometryKind::point, false, false, false},
                                       data,
                                       "What is doubtful in the input"));
}

LayerWriter& add_run_layer(OutputDataset& dataset, const AssessedData& data) {
    return dataset.add_layer(
        own_layer("run", run_fields(), {}, data, "What made this dataset, and cautions"));
}

std::vector<std::string> texts_of(const std::vector<std::filesystem::path>& files) {
    std::vector<std::string> texts;
    for (const std::filesystem::path& file : files) {
        texts.push_back(input_file_text(file));
    }
    return texts;
}

}  // namespace

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
    plan.styles = stored_styles(plan.name, plan);
    return plan;
}

CorridorOutput::CorridorOutput(const CorridorJob& job,
                               const AssessedData& data,
                               const std::string& command,
                               const std::vector<std::filesystem::path>& more_read)
    : command_{command}, data_{data} {
    refuse_clashes(job, data.source, more_read);
    dataset_.emplace(
        OutputDataset::create(job.out, job.format, OutputOptions{.overwrite = job.overwrite}));
    if (!job.sheets.empty()) {
        sheets_.emplace(job.sheets, command, job.overwrite, notes_);
    }
    input_files_ = std::async(std::launch::async, texts_of, data.source.files());
}

void CorridorOutput::write_end(const Settings& settings,
                               std::vector<LayerCount> written,
                               Findings& findings,
                               RunMonitor& monitor,
                               const std::vector<LayerDoubt>& more) {
    LayerWriter& found = add_findings_layer(*dataset_, data_);
    FindingLog log{found, monitor};
    log.write(findings);
    write_doubts(more, found);
    written.push_back({"findings", found.count()});
    write_statements(statements(settings, written), add_run_layer(*dataset_, data_));
    for (LayerCount& layer : written) {
        layers_.push_back(std::move(layer.layer));
    }
    layers_.emplace_back("run");
}

std::string CorridorOutput::written_text(const CorridorJob& job) const {
    std::string text =
        fmt::format("written: {} ({})\n", job.out.string(), fmt::join(layers_, ", "));
    if (!job.sheets.empty()) {
        text += fmt::format("sheets: {} (see index.html)\n", job.sheets.string());
    }
    return text;
}

void CorridorOutput::finish(const Document& document,
                            RunMonitor& monitor,
                            CorridorSummary& summary) {
    if (sheets_) {
        sheets_->write_list(document());
    }
    monitor.stage("index and check", -1);
    monitor.advance(0);
    const OutputSummary output = dataset_->finish();
    if (sheets_) {
        sheets_->publish();
    }
    monitor.finish();
    for (const std::string& note : notes_) {
        summary.text += "note: " + note + "\n";
    }
    summary.text += notes_text(output.notes);
}

std::vector<RunStatement> CorridorOutput::statements(const Settings& settings,
                                                     const std::vector<LayerCount>& written) {
    std::vector<RunStatement> s;
    s.push_back({"tool", "", "linewood " + std::string{tool_version()}});
    s.push_back({"command", "", command_});
    for (const auto& [item, value] : settings) {
        s.push_back({item, "", value});
    }
    s.push_back({"distances", "", data_.frame->name()});
    s.push_back({"assessed_by", "", data_.run.tool});
    s.push_back({"criteria_name", "", data_.run.criteria_name});
    s.push_back({"criteria_sha256", "", data_.run.criteria_sha256});
    s.push_back({"input", "", shown_name(data_.source)});
    for (std::string& file : input_files_.get()) {
        s.push_back({"input_file", "", std::move(file)});
    }
    s.push_back({"count_in", "poles", std::to_string(data_.pole_rows)});
    s.push_back({"count_in", "spans", std::to_string(data_.span_rows)});
    for (const LayerCount& c : written) {
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
