#pragma once

#include <optional>
#include <string>

#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// What a dataset was assessed by, as its `run` layer says.
struct EarlierCriteria {
    std::string name;
    std::string sha256;
};

/// Nothing where the dataset is not this tool's, or was not assessed.
std::optional<EarlierCriteria> earlier_criteria(const InputLayers& inputs);

}  // namespace linewood
