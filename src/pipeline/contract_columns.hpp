#pragma once

#include <vector>

#include "assess/record/finding.hpp"
#include "geo/io/cell.hpp"

namespace linewood {

/// Gives the columns that an input layer is read by their unit and meaning, where the file states none of its
/// own, so that they stand in the output. Others are left as they are.
void describe_contract_columns(InputLayer layer, std::vector<Field>& fields);

/// The columns a layer of the input may have, in the default units.
std::vector<Field> contract_fields(InputLayer layer);

}  // namespace linewood
