#pragma once

#include <string>
#include <vector>

#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {

/// What came in of the poles and spans: the rows read of each layer that was there.
std::vector<LayerCount> network_counts_in(const InputLayers& inputs, const RunData& data);

/// Nothing may have been lost on the way; a route makes more than one span.
/// @throws DataError naming the layer.
void check_counts(const std::string& output,
                  const std::vector<LayerCount>& in,
                  const std::vector<LayerCount>& out);

}  // namespace linewood
