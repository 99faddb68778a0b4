#include <algorithm>

#include <fmt/format.h>

#include "src/report/limit_report.hpp"
#include "src/report/limit_sheet.hpp"
#include "src/report/wrapped_text.hpp"

namespace linewood {
namespace {

constexpr std::size_t kGap = 3;

/// A letter stands right of its figure without pushing it out of line.
std::string aligned(const std::string& cell, std::size_t width) {
    const bool lettered = cell.size() > 2 && cell[cell.size() - 2] == ' ';
    return fmt::format("{:>{}}", lettered ? cell : cell + "  ", width);
}

std::string table_text(const LimitSheetTable& t) {
    std::size_t first = t.corner.size();
    for (const auto& row : t.rows) {
        first = std::max(first, row.head.size());
    }
    std::vector<std::size_t> widths;
    for (std::size_t i = 0; i < t.columns.size(); ++i) {
        std::size_t width = t.columns[i].size() + 2;
        for (const auto& row : t.rows) {
            width = std::max(width, row.cells[i].size() + 2);
        }
        widths.push_back(width + kGap - 2);
    }
    std::string out = t.caption + "\n";
    if (!t.across.empty()) {
        out += fmt::format("  {:>{}}   {}\n", "", first, t.across);
    }
    out += fmt::format("  {:>{}}", t.corner, first);
    for (std::size_t i = 0; i < widths.size(); ++i) {
        out += aligned(t.columns[i], widths[i]);
    }
    out += "\n";
    for (const auto& row : t.rows) {
        out += fmt::format("  {:>{}}", row.head, first);
        for (std::size_t i = 0; i < widths.size(); ++i) {
            out += aligned(row.cells[i], widths[i]);
        }
        out += "\n";
    }
    return out;
}

/// No blanks at the ends of lines.
std::string trimmed_lines(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '\n') {
            out.erase(out.find_last_not_of(' ') + 1);
        }
        out += c;
    }
    return out;
}

}  // namespace

std::string limit_report_text(const LimitReport& report) {
    const LimitSheet sheet = limit_sheet(report);
    std::string out = sheet.title + "\n";
    for (const std::string& line : sheet.head) {
        out += wrapped("  ", line, 2);
    }
    for (const std::string& line : sheet.cautions) {
        out += "caution: " + line + "\n";
    }
    for (const LimitSheetPart& part : sheet.parts) {
        out += fmt::format("\n{}\n", part.title);
        for (const std::string& note : part.notes) {
            out += wrapped("  ", note, 2);
        }
        for (const LimitSheetTable& table : part.tables) {
            out += "\n" + table_text(table);
        }
    }
    out += "\n";
    for (const std::string& line : sheet.legend) {
        out += wrapped("", line, 2);
    }
    return trimmed_lines(out);
}

}  // namespace linewood
