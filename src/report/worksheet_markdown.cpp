#include "src/report/svg.hpp"
#include "src/report/worksheet.hpp"

namespace linewood {
namespace {

void replace_all(std::string& text, std::string_view what, std::string_view by) {
    for (std::size_t at = 0; (at = text.find(what, at)) != std::string::npos; at += by.size()) {
        text.replace(at, what.size(), by);
    }
}

/// Text that stays text: no mark-up of Markdown or HTML, no links made of bare addresses.
std::string escaped(std::string_view text) {
    std::string out;
    // Entities first, as in HTML; then the signs of Markdown.
    for (const char c : svg_escape(text)) {
        constexpr std::string_view kSigns = "\\`*_[]|~$";
        if (kSigns.find(c) != std::string_view::npos) {
            out += '\\';
        }
        out += c;
    }
    replace_all(out, "://", "&#58;//");
    replace_all(out, "www.", "www&#46;");
    replace_all(out, "@", "&#64;");
    return out;
}

class MarkdownSheet {
public:
    MarkdownSheet(std::string& out, std::string_view stem) : out_{out}, stem_{stem} {}

    void part(const SheetPart& p, std::size_t level) {
        out_ += std::string(level, '#') + " " + escaped(p.title) + "\n\n";
        for (const SheetItem& item : p.items) {
            std::visit([&](const auto& i) { write(i); }, item);
        }
        for (const SheetPart& inner : p.parts) {
            part(inner, level + 1);
        }
    }

private:
    void write(const SheetText& t) {
        const std::string text = escaped(t.text);
        out_ += t.warning ? "**" + text + "**\n\n" : text + "\n\n";
    }

    void write(const SheetPicture& p) {
        if (!p.document.empty()) {
            out_ +=
                "![" + escaped(p.caption) + "](" + std::string{stem_} + "." + p.name + ".svg)\n\n";
        }
    }

    void write(const SheetTable& t) {
        out_ += escaped(t.caption) + ":\n\n|";
        for (const SheetColumn& c : t.columns) {
            out_ += " " + escaped(c.head) + " |";
        }
        out_ += "\n|";
        for (std::size_t i = 0; i < t.columns.size(); ++i) {
            out_ += " --- |";
        }
        out_ += "\n";
        for (const auto& row : t.rows) {
            out_ += "|";
            for (const SheetCell& c : row) {
                out_ += " " + escaped(c.text) + " |";
            }
            out_ += "\n";
        }
        out_ += "\n";
    }

    std::string& out_;
    std::string_view stem_;
};

}  // namespace

std::string worksheet_markdown(const Worksheet& sheet, std::string_view stem) {
    std::string out = "# " + escaped(sheet.title) + "\n\n" + escaped(sheet.made_by) + "\n\n";
    MarkdownSheet markdown{out, stem};
    for (const SheetPart& p : sheet.parts) {
        markdown.part(p, 2);
    }
    while (out.size() > 1 && out[out.size() - 2] == '\n') {
        out.pop_back();
    }
    return out;
}

}  // namespace linewood
