#pragma once

#include <span>

#include "assess/wood/wood_tables.hpp"
#include "src/job/layer_mapping.hpp"

namespace linewood {

/// Every species that a job file itself states, as constant or as meaning of a code, must be one of the tables in
/// use; what stands in the layers is looked at row by row.
/// @param poles the sources of the poles.
/// @throws JobError naming path, value and nearest species
void check_mapped_species(std::span<const SourceMapping> poles, const WoodTables& tables);

}  // namespace linewood
