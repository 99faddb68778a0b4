#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geo/io/output_dataset.hpp"
#include "src/assessed/assessed_data.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {

/// @throws JobError where the output or the sheets would take the place of what is read, or of each other.
void refuse_clashes(const CorridorJob& job,
                    const Source& source,
                    const std::vector<std::filesystem::path>& more_read);

/// A layer of the tool's own columns in the coordinates of the poles.
LayerPlan own_layer(std::string name,
                    std::vector<Field> fields,
                    GeometryType geometry,
                    const AssessedData& data,
                    std::string description);

/// A layer `findings` and a layer `run` at the end of every dataset.
LayerWriter& add_findings_layer(OutputDataset& dataset, const AssessedData& data);
LayerWriter& add_run_layer(OutputDataset& dataset);

/// What every run on an assessed dataset states: tool, input with size and checksum, the criteria it was
/// assessed by, the settings of this command, counts, cautions. No clock and no path.
std::vector<RunStatement> corridor_statements(
    const AssessedData& data,
    const std::vector<std::pair<std::string, std::string>>& settings,
    const std::vector<LayerCount>& out);

/// `linewood 0.1.0; criteria X (hash); read from name`, for pages.
std::string made_by_text(const AssessedData& data);

}  // namespace linewood
