#include "src/style/qml_style.hpp"

#include <charconv>
#include <utility>

#include "src/report/svg.hpp"
#include "src/style/xml_writer.hpp"

namespace linewood {
namespace {

using Kind = ClassCondition::Kind;
using Options = std::vector<std::pair<std::string_view, std::string>>;

std::string shortest(double v) {
    char text[32];
    const auto end = std::to_chars(std::begin(text), std::end(text), v).ptr;
    return {text, end};
}

/// Pixels of 1/96 inch as millimetres.
std::string mm(double pixels) { return svg_number(pixels * 25.4 / 96.0); }

std::string colour(const std::string& hex, double opacity = 1.0) {
    std::string out;
    for (std::size_t i = 1; i < hex.size(); i += 2) {
        out += std::to_string(std::stoi(hex.substr(i, 2), nullptr, 16)) + ",";
    }
    return out + std::to_string(static_cast<int>(opacity * 255.0 + 0.5));
}

std::string quoted(std::string_view text, char mark) {
    std::string out{mark};
    for (const char c : text) {
        out += c;
        if (c == mark) {
            out += c;
        }
    }
    return out + mark;
}

std::string expression(const StyleClass& c) {
    const std::string field = quoted(c.field, '"');
    const ClassCondition& is = c.condition;
    if (is.kind == Kind::text) {
        return field + " = " + quoted(is.text, '\'');
    }
    if (is.kind == Kind::flag) {
        return is.flag ? field : "NOT " + field;
    }
    std::string out = is.from ? field + " >= " + shortest(*is.from) : std::string{};
    if (is.to) {
        out += (out.empty() ? "" : " AND ") + field + " < " + shortest(*is.to);
    }
    return out;
}

/// Of the rest: that none of the others holds.
std::string filter(const LayerStyle& style, const StyleClass& c) {
    if (c.condition.kind != Kind::rest) {
        return expression(c);
    }
    std::string any;
    for (const StyleClass& other : style.classes) {
        if (other.condition.kind != Kind::rest) {
            any +=
                (any.empty() ? "coalesce(" : " AND NOT coalesce(") + expression(other) + ", false)";
        }
    }
    return "NOT " + any;
}

class Writing {
public:
    explicit Writing(const LayerStyle& style)
        : style_{style}, xml_{"<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>\n"} {}

    std::string document() {
        const std::string farthest = style_.farthest ? svg_number(*style_.farthest) : "100000000";
        xml_.open("qgis",
                  {{"version", "3.22.0"},
                   {"styleCategories", "Symbology|Rendering"},
                   {"hasScaleBasedVisibilityFlag", style_.farthest ? "1" : "0"},
                   {"minScale", farthest},
                   {"maxScale", "0"}});
        xml_.open("renderer-v2",
                  {{"type", "RuleRenderer"},
                   {"symbollevels", "1"},
                   {"forceraster", "0"},
                   {"enableorderby", "0"}});
        xml_.open("rules", {{"key", "linewood"}});
        std::size_t index = 0;
        each_class([&](const StyleClass& c) {
            const std::string symbol = std::to_string(index++);
            xml_.empty("rule",
                       {{"key", c.id},
                        {"symbol", symbol},
                        {"label", c.label},
                        {"filter", filter(style_, c)}});
        });
        xml_.close();
        xml_.open("symbols");
        each_class([&](const StyleClass& c) { symbol(c); });
        return xml_.finish();
    }

private:
    template <typename Do>
    void each_class(Do act) const {
        for (const auto* list : {&style_.classes, &style_.over}) {
            for (const StyleClass& c : *list) {
                act(c);
            }
        }
    }

    void symbol(const StyleClass& c) {
        constexpr const char* kTypes[] = {"marker", "line", "fill"};
        // The rest lies under what is known.
        pass_ = c.condition.kind == Kind::rest ? "0" : std::to_string(number_ + 1);
        xml_.open("symbol",
                  {{"type", kTypes[static_cast<std::size_t>(style_.geometry)]},
                   {"name", std::to_string(number_++)},
                   {"alpha", "1"},
                   {"clip_to_extent", "1"},
                   {"force_rhr", "0"}});
        switch (style_.geometry) {
            case StyleGeometry::point:
                mark(c.mark);
                break;
            case StyleGeometry::line:
                line(c.line);
                break;
            case StyleGeometry::area:
                area(c.area);
                break;
        }
        xml_.close();
    }

    void layer(std::string_view kind, const Options& options, const std::string& turned_by = {}) {
        xml_.open("layer", {{"class", kind}, {"enabled", "1"}, {"pass", pass_}, {"locked", "0"}});
        xml_.open("Option", {{"type", "Map"}});
        for (const auto& [name, value] : options) {
            xml_.empty("Option", {{"type", "QString"}, {"name", name}, {"value", value}});
        }
        xml_.close();
        for (const auto& [name, value] : options) {
            xml_.empty("prop", {{"k", name}, {"v", value}});
        }
        if (!turned_by.empty()) {
            turn(turned_by);
        }
        xml_.close();
    }

    void turn(const std::string& field) {
        xml_.open("data_defined_properties");
        xml_.open("Option", {{"type", "Map"}});
        xml_.empty("Option", {{"type", "QString"}, {"name", "name"}, {"value", ""}});
        xml_.open("Option", {{"type", "Map"}, {"name", "properties"}});
        xml_.open("Option", {{"type", "Map"}, {"name", "angle"}});
        xml_.empty("Option", {{"type", "bool"}, {"name", "active"}, {"value", "true"}});
        xml_.empty("Option", {{"type", "QString"}, {"name", "field"}, {"value", field}});
        xml_.empty("Option", {{"type", "int"}, {"name", "type"}, {"value", "2"}});  // of a field
        xml_.close();
        xml_.close();
        xml_.empty("Option", {{"type", "QString"}, {"name", "type"}, {"value", "collection"}});
        xml_.close();
        xml_.close();
    }

    static const char* shape_name(MarkShape shape) {
        switch (shape) {
            case MarkShape::circle:
                return "circle";
            case MarkShape::square:
                return "square";
            case MarkShape::triangle:
                return "triangle";
            case MarkShape::star:
                return "star";
            case MarkShape::x:
            case MarkShape::cross:
                return "cross_fill";
            case MarkShape::tick:
            case MarkShape::dashed_tick:
            case MarkShape::dotted_tick:
                return "line";
        }
        return "";
    }

    void mark(const MarkLook& mark) {
        if (is_tick(mark.shape)) {
            tick(mark);
            return;
        }
        layer("SimpleMarker",
              {{"angle", mark.shape == MarkShape::x ? "45" : "0"},
               {"color", colour(mark.fill)},
               {"joinstyle", "round"},
               {"name", shape_name(mark.shape)},
               {"outline_color", colour(mark.outline)},
               {"outline_style", "solid"},
               {"outline_width", mm(mark.outline_width)},
               {"outline_width_unit", "MM"},
               {"scale_method", "diameter"},
               {"size", mm(mark.size)},
               {"size_unit", "MM"}});
    }

    /// A layer a piece, each at its distance from the place: dashes of a pen would begin where they like.
    void tick(const MarkLook& mark) {
        for (const auto& ring : mark_rings(mark.shape, mark.outline_width / mark.size * 2.0)) {
            const double top = ring.front().y;
            const double bottom = ring.back().y;
            layer("SimpleMarker",
                  {{"angle", "0"},
                   {"cap_style", "flat"},
                   {"color", colour(mark.fill)},
                   {"name", shape_name(mark.shape)},
                   {"offset", "0," + mm((top + bottom) / 4.0 * mark.size)},
                   {"offset_unit", "MM"},
                   {"outline_color", colour(mark.fill)},
                   {"outline_style", "solid"},
                   {"outline_width", mm(mark.outline_width)},
                   {"outline_width_unit", "MM"},
                   {"scale_method", "diameter"},
                   {"size", mm((bottom - top) / 2.0 * mark.size)},
                   {"size_unit", "MM"}},
                  style_.rotate_by);
        }
    }

    void line(const LineLook& line) {
        std::string dash;
        for (const double length : line.dash) {
            dash += (dash.empty() ? "" : ";") + mm(length);
        }
        layer("SimpleLine",
              {{"capstyle", "flat"},
               {"joinstyle", "round"},
               {"line_color", colour(line.colour)},
               {"line_style", "solid"},
               {"line_width", mm(line.width)},
               {"line_width_unit", "MM"},
               {"use_custom_dash", dash.empty() ? "0" : "1"},
               {"customdash", dash},
               {"customdash_unit", "MM"}});
    }

    void area(const AreaLook& area) {
        if (!area.fill.empty()) {
            layer("SimpleFill",
                  {{"color", colour(area.fill, area.opacity)},
                   {"style", "solid"},
                   {"outline_style", "no"}});
        }
        if (!area.hatch.empty()) {
            layer(
                "SimpleFill",
                {{"color", colour(area.hatch)}, {"style", "b_diagonal"}, {"outline_style", "no"}});
        }
        if (area.outline) {
            line(*area.outline);
        }
    }

    const LayerStyle& style_;
    XmlWriter xml_;
    std::size_t number_ = 0;
    std::string pass_;
};

}  // namespace

std::string qml_style(const LayerStyle& style) { return Writing{style}.document(); }

}  // namespace linewood
