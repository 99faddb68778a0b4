#include "src/style/xml_writer.hpp"

#include "src/report/svg.hpp"

namespace linewood {

void XmlWriter::begin(std::string_view name, Attributes attributes) {
    out_.append(2 * open_.size(), ' ');
    out_ += '<';
    out_ += name;
    for (const auto& [key, value] : attributes) {
        out_ += ' ';
        out_ += key;
        out_ += "=\"" + svg_escape(value) + "\"";
    }
}

void XmlWriter::open(std::string_view name, Attributes attributes) {
    begin(name, attributes);
    out_ += ">\n";
    open_.emplace_back(name);
}

void XmlWriter::close() {
    const std::string name = std::move(open_.back());
    open_.pop_back();
    out_.append(2 * open_.size(), ' ');
    out_ += "</" + name + ">\n";
}

void XmlWriter::empty(std::string_view name, Attributes attributes) {
    begin(name, attributes);
    out_ += "/>\n";
}

void XmlWriter::leaf(std::string_view name, std::string_view text, Attributes attributes) {
    begin(name, attributes);
    out_ += ">" + svg_escape(text) + "</";
    out_ += name;
    out_ += ">\n";
}

std::string XmlWriter::finish() {
    while (!open_.empty()) {
        close();
    }
    return std::move(out_);
}

}  // namespace linewood
