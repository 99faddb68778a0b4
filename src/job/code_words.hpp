#pragma once

#include <optional>
#include <string>

#include "src/job/contract_fields.hpp"
#include "src/job/strict_json.hpp"

namespace linewood {

/// What a code means (or a constant): a word that the field knows, a number, a day; nothing = not recorded.
/// @throws JobError with the nearest word that is right
std::optional<std::string> code_meaning(const JsonNode& node, const ContractField& field);

}  // namespace linewood
