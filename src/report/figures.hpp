#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/output_dataset.hpp"
#include "src/pipeline/finding_log.hpp"

namespace linewood {

/// A count with thousands set apart: `1,234`.
std::string grouped(std::int64_t n);

/// `1 pole`, `1,234 poles`.
std::string count_words(std::int64_t n, std::string_view one, std::string_view many);

/// How many findings of each code: a heading and a line each, errors first.
/// @param unwritten how many of them are not in the output.
std::string findings_text(const FindingLog::Counts& findings, std::int64_t unwritten);

/// The same as the members of a JSON object, without its braces.
std::string findings_json(const FindingLog::Counts& findings);

/// What was done to the data on the way out: a line each, naming layer and field where it has them.
std::string notes_text(const std::vector<OutputNote>& notes);

/// The same as the items of a JSON list, without its brackets.
std::string notes_json(const std::vector<OutputNote>& notes);

}  // namespace linewood
