#pragma once

#include <string>
#include <vector>

#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// What came of reading one mapped layer.
struct LayerCheckResult {
    std::string told;                   ///< rows, what is read from where, what is not in all rows
    std::vector<std::string> refusals;  ///< what does not fit, each with its path
};

/// Reads a layer that a job file maps, asking every mapped field of every row.
/// @param findings what was wrong with single values is put here
LayerCheckResult check_layer(const InputLayerRef& ref, InputLayer layer, Findings& findings);

}  // namespace linewood
