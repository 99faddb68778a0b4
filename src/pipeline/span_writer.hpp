#pragma once

#include "geo/io/layer_writer.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Where the spans and what is doubtful about them go.
struct SpanOutputs {
    LayerWriter& spans;
    FindingLog& findings;
    bool with_verdicts = true;  ///< the worse verdict of its poles goes with each span
};

/// Writes the spans pole to pole, with the attributes of the feature each came from, and the
/// network's findings. Reads the spans layer a second time. Without one there is nothing to write.
/// @pre with verdicts: the poles are assessed.
void write_spans(const std::optional<InputLayerRef>& layer,
                 const RunData& data,
                 const GroundFrame& frame,
                 std::size_t threads,
                 SpanOutputs out,
                 RunMonitor& monitor);

}  // namespace linewood
