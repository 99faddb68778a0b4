#include "src/style/style_sheet.hpp"

#include <algorithm>

#include "src/job/embedded_text.hpp"
#include "src/style/style_reader.hpp"

namespace linewood {

const LayerStyle* StyleSheet::find(std::string_view name) const {
    const auto found = std::find_if(
        styles.begin(), styles.end(), [&](const LayerStyle& s) { return s.name == name; });
    return found == styles.end() ? nullptr : &*found;
}

std::vector<const LayerStyle*> StyleSheet::of_layer(std::string_view layer) const {
    std::vector<const LayerStyle*> out;
    for (const LayerStyle& s : styles) {
        if (s.layer == layer) {
            out.insert(s.is_default ? out.begin() : out.end(), &s);
        }
    }
    return out;
}

std::vector<std::string_view> StyleSheet::names() const {
    std::vector<std::string_view> out;
    out.reserve(styles.size());
    for (const LayerStyle& s : styles) {
        out.emplace_back(s.name);
    }
    return out;
}

std::string class_key(const LayerStyle& style, const StyleClass& style_class) {
    return style.name + "-" + style_class.id;
}

const StyleSheet& shipped_styles() {
    static const StyleSheet kSheet = read_style_sheet(embedded_text("layers.json"));
    return kSheet;
}

}  // namespace linewood
