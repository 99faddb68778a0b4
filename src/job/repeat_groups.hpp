#pragma once

#include <string>
#include <vector>

#include "src/job/strict_json.hpp"

namespace linewood {

/// What stands for `{n}`, one row each: `{"from": 1, "to": 4}` or a list. @throws JobError
std::vector<std::string> read_groups(const JsonNode& node);

}  // namespace linewood
