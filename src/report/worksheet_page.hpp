#pragma once

#include <string>
#include <string_view>

#include "src/job/worksheet_job.hpp"

namespace linewood {

/// The start of a page, up to and with its opened `<main>`: no scripts, nothing fetched, print rules. Its content
/// security policy allows the one style of the page, by its checksum, and nothing else.
/// @param with_drawings the looks and hatches of drawings are needed.
std::string page_head(std::string_view title, Paper paper, bool with_drawings);
/// Closes what page_head() opened.
std::string page_foot();
/// Does the page begin as page_head() has it begin, so that nothing in it can run or be fetched?
bool is_page(std::string_view html);

}  // namespace linewood
