#include "src/report/html_table.hpp"

#include "src/report/svg.hpp"

namespace linewood {

HtmlTable::HtmlTable(std::string& out,
                     std::string_view caption,
                     const std::vector<std::string>& heads)
    : out_{out} {
    out_ += "<table>\n<caption>" + svg_escape(caption) + "</caption>\n<thead><tr>";
    for (const std::string& head : heads) {
        out_ += "<th scope=\"col\" class=\"words\">" + svg_escape(head) + "</th>";
    }
    out_ += "</tr></thead>\n<tbody>\n";
}

HtmlTable::HtmlTable(std::string& out, std::string_view caption) : out_{out} {
    out_ += "<table>\n<caption>" + svg_escape(caption) + "</caption>\n<tbody>\n";
}

std::string_view cell_look(std::string_view text) {
    constexpr std::size_t kShort = 16;
    constexpr std::size_t kLongest = 24;
    if (text.size() <= kShort && text.find(' ') == std::string_view::npos) {
        return " class=\"line\"";
    }
    std::size_t run = 0;
    for (const char c : text) {
        run = c == ' ' || c == '-' ? 0 : run + 1;
        if (run > kLongest) {
            return " class=\"any\"";
        }
    }
    return " class=\"words\"";
}

void HtmlTable::row(const std::vector<std::string>& cells) {
    out_ += "<tr>";
    for (std::size_t i = 0; i < cells.size(); ++i) {
        out_ += i == 0 ? "<th scope=\"row\"" : "<td";
        out_ += cell_look(cells[i]);
        out_ += i == 0 ? "><bdi>" : ">";
        out_ += svg_escape(cells[i]);
        out_ += i == 0 ? "</bdi></th>" : "</td>";
    }
    out_ += "</tr>\n";
}

void HtmlTable::finish() { out_ += "</tbody>\n</table>\n"; }

void add_paragraph(std::string& out, std::string_view text, std::string_view look) {
    out += look.empty() ? std::string{"<p>"} : "<p class=\"" + std::string{look} + "\">";
    out += svg_escape(text) + "</p>\n";
}

}  // namespace linewood
