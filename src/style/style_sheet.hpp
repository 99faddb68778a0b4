#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "src/style/mark_shape.hpp"

namespace linewood {

enum class StyleGeometry : std::uint8_t { point, line, area };

/// Sizes are in pixels of 1/96 inch, colours `#RRGGBB` in capitals.
struct MarkLook {
    MarkShape shape = MarkShape::circle;
    double size = 0.0;  ///< from edge to edge, without the outline; of a tick its length
    std::string fill = {};
    std::string outline = {};
    double outline_width = 1.0;  ///< of a tick: how wide it is
};

struct LineLook {
    std::string colour = {};
    double width = 0.0;
    std::vector<double> dash = {};  ///< stroke and gap in turn, in pixels; empty = solid
};

struct AreaLook {
    std::string fill = {};  ///< empty = none
    double opacity = 1.0;
    std::string hatch = {};  ///< colour of slanting lines; empty = none
    std::optional<LineLook> outline = {};
};

/// Of which values a class is. A value that is absent is of none but `rest`.
struct ClassCondition {
    enum class Kind : std::uint8_t {
        text,   ///< equal to a word
        flag,   ///< true or false
        range,  ///< a number from `from` (inclusive) up to `to` (exclusive), where given
        rest    ///< whatever no other class is for: absent values and unknown words
    };
    Kind kind = Kind::rest;
    std::string text = {};
    bool flag = false;
    std::optional<double> from = {};
    std::optional<double> to = {};
};

struct StyleClass {
    std::string id;     ///< `[a-z][a-z0-9_]*`, unique in its style
    std::string field;  ///< the condition is on this one
    std::string label;
    ClassCondition condition;
    /// The one that the style's geometry calls for is filled in.
    MarkLook mark = {};
    LineLook line = {};
    AreaLook area = {};
};

/// One way to draw one layer.
struct LayerStyle {
    std::string name;   ///< `[a-z][a-z0-9_]*`, unique, at most 30 characters
    std::string layer;  ///< of the output
    std::string title;
    std::string note;       ///< a sentence
    std::string unit;       ///< of the field; may be empty
    std::string rotate_by;  ///< the field marks are turned by, degrees from north; empty = none
    StyleGeometry geometry = StyleGeometry::point;
    bool is_default = false;           ///< the one a layer is opened with; at most one a layer
    std::optional<double> farthest{};  ///< scale denominator beyond which nothing is drawn
    std::vector<StyleClass> classes;   ///< the least grave first, `rest` last
    std::vector<StyleClass> over;      ///< drawn over the classes where their condition holds
};

struct StyleSheet {
    std::vector<LayerStyle> styles;

    /// The style of that name, or nothing.
    const LayerStyle* find(std::string_view name) const;
    /// The styles of a layer, the default first.
    std::vector<const LayerStyle*> of_layer(std::string_view layer) const;
    /// Names of all styles, as they stand.
    std::vector<std::string_view> names() const;
};

/// How a class is called outside: `poles_by_verdict-replace`.
std::string class_key(const LayerStyle& style, const StyleClass& style_class);

/// What `styles/layers.json` says, which the program carries inside.
const StyleSheet& shipped_styles();

}  // namespace linewood
