#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace linewood {

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
