#pragma once

#include <cstddef>
#include <optional>

#include "geo/io/layer_writer.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Writes the poles with the line at each: reads the poles layer a second time, or, where it is absent,
/// writes the poles that were made.
void write_line_poles(const std::optional<InputLayerRef>& layer,
                      const RunData& data,
                      std::size_t threads,
                      LayerWriter& out,
                      RunMonitor& monitor);

}  // namespace linewood
