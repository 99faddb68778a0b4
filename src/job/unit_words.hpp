#pragma once

#include <map>
#include <string>

#include "src/job/contract_fields.hpp"
#include "src/job/layer_mapping.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {

/// The unit of a field, as the node names it. @throws JobError where the field has none, or not that one
std::string read_unit(const JsonNode& node, const ContractField& field);

/// A source's own units by field: from a word for all sizes, or field by field. @throws JobError
std::map<std::string, std::string> read_units(const JsonNode& node, InputLayer layer);

/// `in`, `ft` ..., in quotes, for messages.
std::string unit_list(const ContractField& field);

/// Sets the factor from the unit and the measure that are stated.
void set_factor(FieldSource& source, const ContractField& field);

}  // namespace linewood
