#pragma once

#include <string>
#include <string_view>

#include "src/job/worksheet_job.hpp"

namespace linewood {

/// The start of a page, up to and with its opened `<main>`: no scripts, nothing fetched, print rules.
/// @param with_drawings the looks and hatches of drawings are needed.
std::string page_head(std::string_view title, Paper paper, bool with_drawings);
/// Closes what page_head() opened.
std::string page_foot();

}  // namespace linewood
