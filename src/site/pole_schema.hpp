#pragma once

#include "geo/io/layer_schema.hpp"
#include "geo/io/source.hpp"

namespace linewood {

/// The poles layer of an assessed dataset, its `pole_id` and `circuit` called so also where a job file read them from
/// columns of other names, which the dataset has kept. Columns stand at the same indexes.
LayerSchema pole_schema(const Source& source);

}  // namespace linewood
