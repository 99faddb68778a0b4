#pragma once

#include <string>
#include <string_view>

#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// Opens `DATASET` or `DATASET:LAYER`; without a layer the one of the usual name, or the only one.
/// @throws DataError, naming the layers there are.
InputLayerRef open_layer(const std::string& typed, std::string_view usual_name);

}  // namespace linewood
