#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "src/pipeline/finding_log.hpp"

namespace linewood {

/// A count with thousands set apart: `1,234`.
std::string grouped(std::int64_t n);

/// How many findings of each code: a heading and a line each, errors first.
std::string findings_text(const std::map<std::string, FindingLog::Count, std::less<>>& findings);

/// The same as the members of a JSON object, without its braces.
std::string findings_json(const std::map<std::string, FindingLog::Count, std::less<>>& findings);

}  // namespace linewood
