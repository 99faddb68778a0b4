#include "src/style/style_reader.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <set>

#include <nlohmann/json.hpp>

#include "src/job/strict_json.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostBytes = std::size_t{1} << 20U;
constexpr std::size_t kMostStyles = 100;
constexpr std::size_t kMostClasses = 50;
constexpr std::size_t kMostText = 200;
constexpr std::size_t kMostName = 30;  // the column of a GeoPackage's style table
constexpr double kMostPixels = 100.0;
constexpr double kMostValue = 1e12;

constexpr std::array<std::string_view, 2> kTopKeys{"format", "styles"};
constexpr std::array<std::string_view, 12> kStyleKeys{"name",
                                                      "layer",
                                                      "title",
                                                      "geometry",
                                                      "field",
                                                      "unit",
                                                      "rotate",
                                                      "default",
                                                      "farthest",
                                                      "note",
                                                      "classes",
                                                      "over"};
constexpr std::array<std::string_view, 10> kClassKeys{
    "id", "field", "label", "value", "from", "to", "rest", "mark", "line", "area"};
constexpr std::array<std::string_view, 5> kMarkKeys{
    "shape", "size", "fill", "outline", "outline_width"};
constexpr std::array<std::string_view, 3> kLineKeys{"colour", "width", "dash"};
constexpr std::array<std::string_view, 4> kAreaKeys{"fill", "opacity", "hatch", "outline"};
constexpr std::array<std::string_view, 3> kGeometries{"point", "line", "area"};

std::string name_at(const JsonNode& node, std::string_view key) {
    const JsonNode at = node.at(key);
    std::string name = at.text(kMostName);
    const auto good = [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
    };
    if (name.front() < 'a' || name.front() > 'z' || !std::all_of(name.begin(), name.end(), good)) {
        at.fail_value("is no name: small letters, digits and _ are wanted, a letter first");
    }
    return name;
}

std::string colour_of(const JsonNode& node) {
    std::string colour = node.text(kMostText);
    const auto good = [](char c) { return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'F'); };
    if (colour.size() != 7 || colour.front() != '#' ||
        !std::all_of(colour.begin() + 1, colour.end(), good)) {
        node.fail_value("is no colour: # and six hexadecimal digits in capitals are wanted");
    }
    return colour;
}

/// A width or size, above nothing.
double pixels_of(const JsonNode& node) {
    const double v = node.number(0.0, kMostPixels);
    if (v <= 0.0) {
        node.fail_value("is out of range: above 0 is wanted");
    }
    return v;
}

LineLook read_line(const JsonNode& node) {
    node.only_keys(kLineKeys);
    LineLook line;
    line.colour = colour_of(node.at("colour"));
    line.width = pixels_of(node.at("width"));
    if (const auto dash = node.find("dash")) {
        for (const JsonNode& length : dash->items(8)) {
            line.dash.push_back(pixels_of(length));
        }
        if (line.dash.empty() || line.dash.size() % 2 != 0) {
            dash->fail("strokes and gaps are wanted in turn, an even number of them");
        }
    }
    return line;
}

MarkLook read_mark(const JsonNode& node) {
    node.only_keys(kMarkKeys);
    MarkLook mark;
    mark.shape = static_cast<MarkShape>(node.at("shape").choice(kMarkShapes));
    mark.size = pixels_of(node.at("size"));
    mark.fill = colour_of(node.at("fill"));
    mark.outline = colour_of(node.at("outline"));
    mark.outline_width = pixels_of(node.at("outline_width"));
    return mark;
}

AreaLook read_area(const JsonNode& node) {
    node.only_keys(kAreaKeys);
    AreaLook area;
    if (const auto fill = node.find("fill")) {
        area.fill = colour_of(*fill);
    }
    if (const auto opacity = node.find("opacity")) {
        area.opacity = opacity->number(0.0, 1.0);
    }
    if (const auto hatch = node.find("hatch")) {
        area.hatch = colour_of(*hatch);
    }
    if (const auto outline = node.find("outline")) {
        area.outline = read_line(*outline);
    }
    if (area.fill.empty() && area.hatch.empty() && !area.outline) {
        node.fail("nothing would be drawn: give fill, hatch or outline");
    }
    return area;
}

ClassCondition read_condition(const JsonNode& node) {
    const auto value = node.find("value");
    const auto from = node.find("from");
    const auto to = node.find("to");
    const auto rest = node.find("rest");
    if ((value ? 1 : 0) + (from || to ? 1 : 0) + (rest ? 1 : 0) != 1) {
        node.fail("one of value, from and to, or rest is wanted");
    }
    ClassCondition c;
    if (rest) {
        if (!rest->boolean()) {
            rest->fail_value("says nothing: leave it out");
        }
    } else if (value && value->is_boolean()) {
        c.kind = ClassCondition::Kind::flag;
        c.flag = value->boolean();
    } else if (value) {
        c.kind = ClassCondition::Kind::text;
        c.text = value->text(kMostText);
    } else {
        c.kind = ClassCondition::Kind::range;
        c.from = from ? std::optional{from->number(-kMostValue, kMostValue)} : std::nullopt;
        c.to = to ? std::optional{to->number(-kMostValue, kMostValue)} : std::nullopt;
        if (from && to && *c.from >= *c.to) {
            to->fail_value("is not above from");
        }
    }
    return c;
}

StyleClass read_class(const JsonNode& node, StyleGeometry geometry, const std::string& field) {
    node.only_keys(kClassKeys);
    StyleClass c;
    c.id = name_at(node, "id");
    c.label = node.at("label").text(kMostText);
    c.field = node.find("field") ? node.at("field").text(kMostText) : field;
    c.condition = read_condition(node);
    constexpr std::array<std::string_view, 3> kLooks{"mark", "line", "area"};
    for (std::size_t i = 0; i < kLooks.size(); ++i) {
        if (i != static_cast<std::size_t>(geometry) && node.find(kLooks[i])) {
            node.at(kLooks[i]).fail("is not how this geometry is drawn");
        }
    }
    switch (geometry) {
        case StyleGeometry::point:
            c.mark = read_mark(node.at("mark"));
            break;
        case StyleGeometry::line:
            c.line = read_line(node.at("line"));
            break;
        case StyleGeometry::area:
            c.area = read_area(node.at("area"));
            break;
    }
    return c;
}

/// Could a value be of both?
bool overlap(const ClassCondition& a, const ClassCondition& b) {
    if (a.kind != b.kind) {
        return false;
    }
    switch (a.kind) {
        case ClassCondition::Kind::text:
            return a.text == b.text;
        case ClassCondition::Kind::flag:
            return a.flag == b.flag;
        case ClassCondition::Kind::range: {
            constexpr double kNone = std::numeric_limits<double>::infinity();
            return a.from.value_or(-kNone) < b.to.value_or(kNone) &&
                   b.from.value_or(-kNone) < a.to.value_or(kNone);
        }
        case ClassCondition::Kind::rest:
            return true;
    }
    return false;
}

void check_classes(const JsonNode& node, const LayerStyle& style) {
    const auto rests =
        std::count_if(style.classes.begin(), style.classes.end(), [](const StyleClass& c) {
            return c.condition.kind == ClassCondition::Kind::rest;
        });
    if (rests != 1 || style.classes.back().condition.kind != ClassCondition::Kind::rest) {
        node.at("classes").fail("the last class, and no other, must be the rest: absent values");
    }
    std::set<std::string> ids;
    for (const auto* list : {&style.classes, &style.over}) {
        for (std::size_t i = 0; i < list->size(); ++i) {
            const StyleClass& c = (*list)[i];
            if (!ids.insert(c.id).second) {
                node.fail("the id \"" + c.id + "\" is given twice");
            }
            for (std::size_t k = 0; k < i; ++k) {
                const StyleClass& other = (*list)[k];
                if (c.field == other.field && overlap(c.condition, other.condition)) {
                    node.fail("a value can be of \"" + other.id + "\" and of \"" + c.id + "\"");
                }
            }
        }
    }
    for (const StyleClass& c : style.over) {
        if (c.condition.kind == ClassCondition::Kind::rest) {
            node.at("over").fail("what is drawn over needs a value or a range");
        }
    }
}

LayerStyle read_style(const JsonNode& node) {
    node.only_keys(kStyleKeys);
    LayerStyle style;
    style.name = name_at(node, "name");
    style.layer = name_at(node, "layer");
    style.title = node.at("title").text(kMostText);
    style.note = node.at("note").text(kMostText);
    style.geometry = static_cast<StyleGeometry>(node.at("geometry").choice(kGeometries));
    const std::string field = node.at("field").text(kMostText);
    if (const auto unit = node.find("unit")) {
        style.unit = unit->text(kMostText);
    }
    if (const auto rotate = node.find("rotate")) {
        style.rotate_by = rotate->text(kMostText);
    }
    if (const auto given = node.find("default")) {
        style.is_default = given->boolean();
    }
    if (const auto farthest = node.find("farthest")) {
        style.farthest = farthest->number(1.0, 1e9);
    }
    for (const JsonNode& c : node.at("classes").items(kMostClasses)) {
        style.classes.push_back(read_class(c, style.geometry, field));
    }
    if (style.classes.empty()) {
        node.at("classes").fail("the list is empty: nothing would be drawn");
    }
    if (const auto over = node.find("over")) {
        for (const JsonNode& c : over->items(kMostClasses)) {
            style.over.push_back(read_class(c, style.geometry, field));
        }
    }
    check_classes(node, style);
    return style;
}

}  // namespace

StyleSheet read_style_sheet(std::string_view text) {
    const nlohmann::json document = parse_strict_json(text, "styles", kMostBytes);
    const JsonNode top{document};
    top.only_keys(kTopKeys);
    if (top.at("format").number(0.0, 1e6) != 1.0) {
        top.at("format").fail_value("is another format of styles; 1 is what is read");
    }
    StyleSheet sheet;
    std::set<std::string> names;
    std::set<std::string> with_default;
    for (const JsonNode& node : top.at("styles").items(kMostStyles)) {
        LayerStyle style = read_style(node);
        if (!names.insert(style.name).second) {
            node.at("name").fail_value("is the name of another style");
        }
        if (style.is_default && !with_default.insert(style.layer).second) {
            node.at("default").fail("the layer has a default style already");
        }
        sheet.styles.push_back(std::move(style));
    }
    if (sheet.styles.empty()) {
        top.at("styles").fail("the list is empty");
    }
    return sheet;
}

}  // namespace linewood
