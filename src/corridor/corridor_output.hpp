#pragma once

#include <filesystem>
#include <functional>
#include <future>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "assess/record/finding.hpp"
#include "geo/io/output_dataset.hpp"
#include "src/assessed/assessed_data.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/sheet_folder.hpp"
#include "src/pipeline/layer_doubt.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a run came to, in words and as the inside of a JSON object.
struct CorridorSummary {
    std::string text;
    std::string json;
    std::vector<std::string> warnings;
};

/// A layer of the tool's own columns in the coordinates of the poles.
LayerPlan own_layer(std::string name,
                    std::vector<Field> fields,
                    GeometryType geometry,
                    const AssessedData& data,
                    std::string description);

/// What a run on an assessed dataset writes: a dataset, and a folder of sheets where one is asked for. Both are
/// there complete, or none is.
class CorridorOutput {
public:
    /// Item and value, for the layer `run`.
    using Settings = std::vector<std::pair<std::string, std::string>>;
    using Document = std::function<nlohmann::ordered_json()>;

    /// The data must outlive it. Checksums of what was read are worked out meanwhile, on a thread of their own.
    /// @param command that writes: `projects`.
    /// @param more_read files read besides those of the data.
    /// @throws JobError where an output would take the place of what is read, or of the other; DataError
    CorridorOutput(const CorridorJob& job,
                   const AssessedData& data,
                   const std::string& command,
                   const std::vector<std::filesystem::path>& more_read);

    OutputDataset& dataset() { return *dataset_; }
    /// Null where none are asked for.
    SheetFolder* sheets() { return sheets_ ? &*sheets_ : nullptr; }

    /// Writes the last layers: `findings`, and `run` with tool, input with size and checksum, the criteria it was
    /// assessed by, the settings, counts and cautions. No clock and no path.
    /// @param more findings, of the user's own layer.
    void write_end(const Settings& settings,
                   std::vector<LayerCount> written,
                   Findings& findings,
                   RunMonitor& monitor,
                   const std::vector<LayerDoubt>& more = {});

    /// `written: OUT (corridors, stations, findings, run)`, and where the sheets are: for the summary, once the
    /// last layers are written.
    std::string written_text(const CorridorJob& job) const;

    /// Indexes, checks and shows everything; adds what is to be noted to the summary.
    /// @param document the list of the sheets, asked for where there are some.
    void finish(const Document& document, RunMonitor& monitor, CorridorSummary& summary);

private:
    std::vector<RunStatement> statements(const Settings& settings,
                                         const std::vector<LayerCount>& written);

    std::string command_;
    const AssessedData& data_;
    std::vector<std::string> notes_;
    std::vector<std::string> layers_;
    std::optional<OutputDataset> dataset_;
    std::optional<SheetFolder> sheets_;
    std::future<std::vector<std::string>> input_files_;
};

/// `linewood 0.1.0; criteria X (hash); read from name`, for pages.
std::string made_by_text(const AssessedData& data);

}  // namespace linewood
