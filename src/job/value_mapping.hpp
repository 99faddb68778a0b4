#pragma once

#include <vector>

#include "src/job/contract_fields.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {

/// Where a field's value is from, as a job file says it: a column's name, or an object. Adds the sources in order.
/// @param base what stands around it: the units, blanks and decimal mark of the whole source
/// @param has_groups does its source say what stands for `{n}`?
/// @throws JobError
void read_value(const JsonNode& node,
                const ContractField& field,
                bool has_groups,
                const FieldSource& base,
                std::vector<FieldSource>& out);

}  // namespace linewood
