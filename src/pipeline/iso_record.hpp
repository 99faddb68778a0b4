#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/pipeline/run_record.hpp"

namespace linewood {

/// What made a dataset as one metadata record (ISO 19115, in the XML of ISO 19139): the program and its version,
/// the criteria with their hash, each input as a source of the lineage, counts and cautions.
/// @param day of the run, `YYYY-MM-DD`; empty = not stated. No clock, so that the same input gives the same bytes.
std::string iso_record(const std::vector<RunStatement>& statements,
                       std::string_view title,
                       std::string_view day);

}  // namespace linewood
