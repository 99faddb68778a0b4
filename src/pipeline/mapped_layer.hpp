#pragma once

#include <optional>
#include <vector>

#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// Opens a layer as a job file maps it: one source as it is, or a layer composed of several.
/// @param shared the dataset of the command line, for sources that name none.
/// @throws JobError naming the path of a layer, column or condition that is not there; DataError.
InputLayerRef open_mapped(const std::vector<SourceMapping>& sources,
                          InputLayer layer,
                          const std::optional<Source>& shared,
                          Findings& findings);

}  // namespace linewood
