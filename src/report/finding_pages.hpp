#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "assess/record/finding.hpp"

namespace linewood {

/// The page on one kind of finding.
struct FindingPage {
    std::string_view code;
    Severity severity = Severity::note;
    std::string_view meaning;  ///< what it means, and what the run did about it
    std::string_view why;      ///< why it matters
    std::string_view mend;     ///< how to mend it
};

/// A page for every code that the program can emit: errors, warnings, then notes, each by code.
std::vector<FindingPage> finding_pages();

/// The page of that code, or null.
const FindingPage* find_page(const std::vector<FindingPage>& pages, std::string_view code);

/// All codes, a line each, by severity.
std::string finding_list_text(const std::vector<FindingPage>& pages);
/// One page to read.
std::string finding_page_text(const FindingPage& page);
/// Pages as Markdown, one heading each.
std::string finding_pages_markdown(const std::vector<FindingPage>& pages);
/// Pages as a JSON list of objects with the members of FindingPage.
std::string finding_pages_json(const std::vector<FindingPage>& pages);

}  // namespace linewood
