#pragma once

#include <optional>

#include "geo/io/layer_writer.hpp"
#include "src/job/assess_job.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Where the rows of the assessment go.
struct PoleOutputs {
    LayerWriter& poles;
    LayerWriter& sections;
    FindingLog& findings;
};

/// Assesses every pole and writes it with its sections: reads the poles layer a second time, assesses
/// batches in parallel, writes in input order. Fills `data.verdicts` and `data.defect_shells`.
/// @param layer absent: the poles were made from the spans.
void assess_and_write_poles(const std::optional<InputLayerRef>& layer,
                            const AssessJob& job,
                            RunData& data,
                            PoleOutputs out,
                            RunMonitor& monitor);

}  // namespace linewood
