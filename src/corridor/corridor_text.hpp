#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geo/corridor/money.hpp"
#include "geo/corridor/projects.hpp"
#include "src/corridor/line_model.hpp"

namespace linewood {

/// `12,345` or `12,345.50`: thousands set apart, decimals only where there are some.
std::string money_text(Money amount);
/// At most so many decimals, without zeros at the end.
std::string plain_text(double value, int decimals);
/// Where on the line something is: `run from-to m`, several with `; `.
std::string places_text(const LineModel& line, const std::vector<RunPart>& parts);

/// How the text of a cell breaks, as the attribute of its element: short ones not at all, those that are
/// longer than a column can be anywhere.
std::string_view cell_look(std::string_view text);

/// A table of a page, row by row; every text is escaped.
class HtmlTable {
public:
    HtmlTable(std::string& out, std::string_view caption, const std::vector<std::string>& heads);
    /// Without heads: names on the left.
    HtmlTable(std::string& out, std::string_view caption);
    void row(const std::vector<std::string>& cells);
    void finish();

private:
    std::string& out_;
};

/// A paragraph. @param look a class of the page, or empty.
void add_paragraph(std::string& out, std::string_view text, std::string_view look = {});

}  // namespace linewood
