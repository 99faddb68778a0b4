#pragma once

#include <string>
#include <vector>

#include "src/report/limit_report.hpp"

namespace linewood {

// What a sheet of limits says, before it is laid out as text or as a page.

/// A table whose first column names the rows.
struct LimitSheetTable {
    std::string caption;
    std::string corner;                ///< heads the first column
    std::string across;                ///< stands over all other columns; may be empty
    std::vector<std::string> columns;  ///< without the first
    struct Row {
        std::string head;
        std::vector<std::string> cells;
    };
    std::vector<Row> rows;
};

struct LimitSheetPart {
    std::string title;
    std::vector<std::string> notes;  ///< how the tables are read
    std::vector<LimitSheetTable> tables;
};

struct LimitSheet {
    std::string title;
    std::vector<std::string> head;      ///< what made it, by which criteria
    std::vector<std::string> cautions;  ///< to stand first and big
    std::vector<LimitSheetPart> parts;
    std::vector<std::string> legend;
};

/// Neighbouring girths whose rows are alike, figure for figure, share a table.
LimitSheet limit_sheet(const LimitReport& report);

/// A length as a figure of the report, without its unit.
std::string limit_figure(const LimitReport& report, Length l);

}  // namespace linewood
