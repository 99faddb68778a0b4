#include "src/style/style_css.hpp"

#include <algorithm>
#include <utility>
#include <vector>

namespace linewood {
namespace {

/// The colour that stands for a class; nothing where it has only an outline.
std::string colour_of(const LayerStyle& style, const StyleClass& c) {
    switch (style.geometry) {
        case StyleGeometry::point:
            return c.mark.fill;
        case StyleGeometry::line:
            return c.line.colour;
        case StyleGeometry::area:
            if (!c.area.fill.empty()) {
                return c.area.fill;
            }
            return !c.area.hatch.empty() ? c.area.hatch : c.area.outline->colour;
    }
    return {};
}

}  // namespace

std::string style_css(const StyleSheet& sheet) {
    std::vector<std::pair<std::string, std::string>> colours;
    for (const LayerStyle& style : sheet.styles) {
        for (const auto* list : {&style.classes, &style.over}) {
            for (const StyleClass& c : *list) {
                std::string name = "lw-" + class_key(style, c);
                std::replace(name.begin(), name.end(), '_', '-');
                colours.emplace_back(std::move(name), colour_of(style, c));
            }
        }
    }
    std::string out = ":root {\n";
    for (const auto& [name, colour] : colours) {
        out += "  --" + name + ": " + colour + ";\n";
    }
    out += "}\n";
    for (const auto& entry : colours) {
        out += "." + entry.first + " { --lw-colour: var(--" + entry.first + "); }\n";
    }
    return out;
}

}  // namespace linewood
