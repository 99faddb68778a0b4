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

/// Has the dataset a `run` layer of this tool? One with the columns of that layer, and a row that says which tool
/// wrote it; a layer that is only called so is the owner's.
/// @throws DataError as reading it
bool has_own_run(const Source& source);

/// Nothing where the dataset is not this tool's, or was not assessed.
std::optional<EarlierCriteria> earlier_criteria(const InputLayers& inputs);

}  // namespace linewood
