#include "src/report/svg.hpp"

#include <cassert>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace linewood {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

struct CodePoint {
    std::uint32_t value;
    std::size_t bytes;  ///< 0: not UTF-8 at this place
};

/// The code point at the start of `text`. @pre not empty
CodePoint first_code_point(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::uint32_t lead = byte(0);
    if (lead < 0x80U) {
        return {lead, 1};
    }
    const std::size_t length = lead >= 0xF0U ? 4 : lead >= 0xE0U ? 3 : 2;
    if (lead < 0xC2U || lead > 0xF4U || text.size() < length) {
        return {0, 0};
    }
    std::uint32_t value = lead & (0x7FU >> length);
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) {
            return {0, 0};
        }
        value = (value << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (length == 3 && value < 0x800U) || (length == 4 && value < 0x10000U);
    const bool surrogate = value >= 0xD800U && value <= 0xDFFFU;
    return overlong || surrogate || value > 0x10FFFFU ? CodePoint{0, 0} : CodePoint{value, length};
}

bool allowed_in_xml(std::uint32_t c) {
    return (c >= 0x20U && !(c >= 0x7FU && c <= 0x9FU) && c != 0xFFFEU && c != 0xFFFFU);
}

void append_escaped(CodePoint c, std::string_view bytes, std::string& out) {
    switch (c.value) {
        case '&':
            out += "&amp;";
            return;
        case '<':
            out += "&lt;";
            return;
        case '>':
            out += "&gt;";
            return;
        case '"':
            out += "&quot;";
            return;
        case '\'':
            out += "&#39;";
            return;
        case '\t':
        case '\n':
        case '\r':
            out += ' ';
            return;
        default:
            out += allowed_in_xml(c.value) ? bytes : kReplacement;
    }
}

}  // namespace

std::string svg_number(double v) {
    assert(std::isfinite(v));
    char text[400];
    const double r = std::round(v * 100.0) / 100.0 + 0.0;
    char* end = std::to_chars(text, text + sizeof text, r, std::chars_format::fixed, 2).ptr;
    while (end[-1] == '0') {
        --end;
    }
    if (end[-1] == '.') {
        --end;
    }
    return std::string{text, end};
}

std::string svg_escape(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    while (!text.empty()) {
        const CodePoint c = first_code_point(text);
        if (c.bytes == 0) {
            out += kReplacement;
            text.remove_prefix(1);
        } else {
            append_escaped(c, text.substr(0, c.bytes), out);
            text.remove_prefix(c.bytes);
        }
    }
    return out;
}

std::string svg_shortened(std::string_view text, std::size_t most) {
    std::size_t kept = 0;  // bytes of the first most - 1 characters
    std::size_t bytes = 0;
    for (std::size_t n = 0; bytes < text.size(); ++n) {
        if (n == most) {
            return std::string{text.substr(0, kept)} + "\u2026";
        }
        const CodePoint c = first_code_point(text.substr(bytes));
        bytes += c.bytes == 0 ? 1 : c.bytes;
        if (n + 1 < most) {
            kept = bytes;
        }
    }
    return std::string{text};
}

std::string svg_path(const std::vector<std::vector<SvgPoint>>& rings) {
    std::string d;
    for (const auto& ring : rings) {
        char command = 'M';
        for (const SvgPoint& p : ring) {
            d += command;
            d += svg_number(p.x);
            d += ' ';
            d += svg_number(p.y);
            command = 'L';
        }
        if (!ring.empty()) {
            d += 'Z';
        }
    }
    return d;
}

SvgWriter::SvgWriter(double width,
                     double height,
                     std::string_view title,
                     std::string_view description,
                     std::string_view style,
                     SvgForm form) {
    const double top = form == SvgForm::fragment ? kSvgHeading : 0.0;
    const std::string box =
        "0 " + svg_number(top) + " " + svg_number(width) + " " + svg_number(height - top);
    if (form == SvgForm::fragment) {
        open("svg",
             {{"class", "lw-drawing"}, {"viewBox", box}, {"role", "img"}, {"aria-label", title}});
        indent();
        out_ += "<desc>" + svg_escape(description) + "</desc>\n";
        return;
    }
    out_ = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
    open("svg",
         {{"xmlns", "http://www.w3.org/2000/svg"},
          {"viewBox", box},
          {"width", width},
          {"height", height},
          {"role", "img"},
          {"aria-label", title}});
    indent();
    out_ += "<title>" + svg_escape(title) + "</title>\n";
    indent();
    out_ += "<desc>" + svg_escape(description) + "</desc>\n";
    indent();
    out_ += "<style>\n";
    out_ += style;
    indent();
    out_ += "</style>\n";
}

SvgWriter SvgWriter::definitions() {
    SvgWriter svg;
    svg.open("svg",
             {{"class", "lw-definitions"},
              {"width", 0.0},
              {"height", 0.0},
              {"aria-hidden", "true"},
              {"focusable", "false"}});
    return svg;
}

void SvgWriter::indent() { out_.append(open_.size(), ' '); }

void SvgWriter::begin(std::string_view name, SvgAttributes attributes) {
    indent();
    out_ += '<';
    out_ += name;
    for (const SvgAttribute& a : attributes) {
        out_ += ' ';
        out_ += a.name;
        out_ += "=\"";
        out_ += svg_escape(a.value.text());
        out_ += '"';
    }
}

void SvgWriter::open(std::string_view name, SvgAttributes attributes) {
    begin(name, attributes);
    out_ += ">\n";
    open_.emplace_back(name);
}

void SvgWriter::close() {
    assert(!open_.empty());
    const std::string name = open_.back();
    open_.pop_back();
    indent();
    out_ += "</" + name + ">\n";
}

void SvgWriter::element(std::string_view name, SvgAttributes attributes) {
    begin(name, attributes);
    out_ += "/>\n";
}

void SvgWriter::text(SvgPoint at, std::string_view text, SvgAttributes attributes) {
    begin("text", attributes);
    out_ += " x=\"" + svg_number(at.x) + "\" y=\"" + svg_number(at.y) + "\">";
    out_ += svg_escape(text);
    out_ += "</text>\n";
}

void SvgWriter::line(SvgPoint from, SvgPoint to, SvgAttributes attributes) {
    begin("line", attributes);
    out_ += " x1=\"" + svg_number(from.x) + "\" y1=\"" + svg_number(from.y) + "\" x2=\"" +
            svg_number(to.x) + "\" y2=\"" + svg_number(to.y) + "\"/>\n";
}

std::string SvgWriter::finish() {
    while (!open_.empty()) {
        close();
    }
    return std::move(out_);
}

}  // namespace linewood
