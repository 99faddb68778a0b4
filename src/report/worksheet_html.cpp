#include <algorithm>

#include "src/report/svg.hpp"
#include "src/report/worksheet.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

/// Letters that may stand without a place to break.
constexpr std::size_t kLongestRun = 30;

/// Writes a worksheet as HTML. Keys are the program's own words, everything else is escaped.
class HtmlSheet {
public:
    explicit HtmlSheet(std::string& out) : out_{out} {}

    void part(const SheetPart& p, int level) {
        const std::string heading = "h" + std::to_string(level);
        out_ += "<section id=\"" + p.key + "\" aria-labelledby=\"" + p.key + "-title\">\n";
        out_ += "<" + heading + " id=\"" + p.key + "-title\">" + svg_escape(p.title) + "</" +
                heading + ">\n";
        for (const SheetItem& item : p.items) {
            std::visit([&](const auto& i) { write(i); }, item);
        }
        for (const SheetPart& inner : p.parts) {
            part(inner, level + 1);
        }
        out_ += "</section>\n";
    }

private:
    void write(const SheetText& t) {
        out_ += t.warning ? "<p class=\"warning\">" : "<p>";
        out_ += svg_escape(t.text) + "</p>\n";
    }

    void write(const SheetPicture& p) {
        if (p.fragment.empty()) {
            return;
        }
        out_ += p.name == "elevation" ? "<figure class=\"elevation\">\n" : "<figure>\n";
        out_ += p.fragment;
        out_ += "<figcaption>" + svg_escape(p.caption) + "</figcaption>\n</figure>\n";
    }

    void write(const SheetTable& t) {
        out_ += "<table data-table=\"" + t.key + "\">\n<caption>" + svg_escape(t.caption) +
                "</caption>\n<thead><tr>";
        for (const SheetColumn& c : t.columns) {
            out_ += "<th scope=\"col\">" + svg_escape(c.head) + "</th>";
        }
        out_ += "</tr></thead>\n<tbody>\n";
        for (const auto& row : t.rows) {
            out_ += "<tr>";
            for (std::size_t i = 0; i < row.size(); ++i) {
                cell(row[i], i == 0, key_of(t, row, i));
            }
            out_ += "</tr>\n";
        }
        out_ += "</tbody>\n</table>\n";
    }

    /// What a program finds a cell by: the row's name where the table is an object.
    static std::string key_of(const SheetTable& t,
                              const std::vector<SheetCell>& row,
                              std::size_t column) {
        return t.as_object && column == 1 ? row.front().text : t.columns[column].key;
    }

    /// A name in code may break after its underscores.
    static std::string breakable(const std::string& name) {
        std::string out;
        for (const char c : svg_escape(name)) {
            out += c;
            if (c == '_') {
                out += "<wbr>";
            }
        }
        return out;
    }

    /// Text without a place to break, longer than a column can be: then it breaks anywhere.
    static bool is_unbroken(const std::string& text) {
        std::size_t run = 0;
        for (const char c : text) {
            run = c == ' ' || c == '-' ? 0 : run + 1;
            if (run > kLongestRun) {
                return true;
            }
        }
        return false;
    }

    static std::string class_of(const SheetCell& c) {
        std::string names = c.mark == CellMark::good   ? "good"
                            : c.mark == CellMark::bad  ? "bad"
                            : c.mark == CellMark::open ? "open"
                                                       : "";
        if (is_unbroken(c.text)) {
            names += names.empty() ? "any" : " any";
        }
        return names.empty() ? names : " class=\"" + names + "\"";
    }

    void cell(const SheetCell& c, bool names_row, const std::string& key) {
        const std::string tag = names_row ? "th" : "td";
        out_ += "<" + tag + (names_row ? " scope=\"row\"" : "") + " data-key=\"" + svg_escape(key) +
                "\"" + class_of(c) + ">";
        out_ += names_row ? breakable(c.text) : svg_escape(c.text);
        out_ += "</" + tag + ">";
    }

    std::string& out_;
};

bool has_drawings(const SheetPart& p) {
    return std::any_of(p.items.begin(),
                       p.items.end(),
                       [](const SheetItem& i) {
                           const auto* picture = std::get_if<SheetPicture>(&i);
                           return picture != nullptr && !picture->fragment.empty();
                       }) ||
           std::any_of(p.parts.begin(), p.parts.end(), has_drawings);
}

}  // namespace

std::string worksheet_html(const Worksheet& sheet, Paper paper) {
    const bool drawings = std::any_of(sheet.parts.begin(), sheet.parts.end(), has_drawings);
    std::string out = page_head(sheet.title, paper, drawings);
    out += "<h1><bdi>" + svg_escape(sheet.title) + "</bdi></h1>\n<p class=\"made\">" +
           svg_escape(sheet.made_by) + "</p>\n<nav aria-label=\"Parts\"><p>";
    for (const SheetPart& p : sheet.parts) {
        out += &p == &sheet.parts.front() ? "" : " \u00b7 ";
        out += "<a href=\"#" + p.key + "\">" + svg_escape(p.title) + "</a>";
    }
    out += "</p></nav>\n";
    HtmlSheet html{out};
    for (const SheetPart& p : sheet.parts) {
        html.part(p, 2);
    }
    return out + page_foot();
}

}  // namespace linewood
