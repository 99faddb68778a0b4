#pragma once

#include <optional>
#include <string>

#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// Where no row of a source meets its condition: a message with path, condition and the nearest values that its columns
/// do hold; nothing where some row does, or where the source itself has no rows.
/// @param shared the dataset of sources that name none
std::optional<std::string> empty_condition(const SourceMapping& mapping,
                                           InputLayer layer,
                                           const std::optional<Source>& shared);

}  // namespace linewood
