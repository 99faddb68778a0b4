#pragma once

#include <string>
#include <vector>

#include "src/report/worksheet.hpp"

namespace linewood {

/// One line of the list of worksheets.
struct IndexEntry {
    std::string pole_id;
    std::vector<std::string> files;  ///< in the order of the formats
    std::string verdict;
    std::string urgency;
    std::string remaining;  ///< of the worst section, as the worksheet prints it; may be empty
    std::string inspected_on;
};

/// The list as a page, with links.
std::string worksheet_index_html(const WorksheetRunInfo& run,
                                 const std::vector<IndexEntry>& entries);
/// The list for programs; names every file of the folder.
std::string worksheet_index_json(const WorksheetRunInfo& run,
                                 const std::vector<IndexEntry>& entries);
/// The files such a list names; empty where it is none.
std::vector<std::string> files_of_index(const std::string& json);

}  // namespace linewood
