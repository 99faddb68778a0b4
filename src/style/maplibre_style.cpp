#include "src/style/maplibre_style.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;
using Kind = ClassCondition::Kind;

/// Scale denominator of zoom 0 at the equator: tiles of 512 pixels of 0.28 mm, as OGC has it.
constexpr double kScaleOfZoom0 = 279541132.0;
constexpr double kHatchSide = 8.0;

double rounded_zoom(double scale) {
    return std::max(0.0, std::round(std::log2(kScaleOfZoom0 / scale) * 100.0) / 100.0);
}

/// The value of a field, under whichever name it stands.
Json field_value(const MapStyleSource& source, const std::string& field) {
    for (const auto& [name, brief] : source.short_names) {
        if (name == field) {
            return {"coalesce", {"get", field}, {"get", brief}};
        }
    }
    return Json::array({"get", field});
}

Json condition(const MapStyleSource& source, const StyleClass& c) {
    const Json value = field_value(source, c.field);
    if (c.condition.kind == Kind::text) {
        return Json::array({"==", value, c.condition.text});
    }
    if (c.condition.kind == Kind::flag) {
        return Json::array({"==", value, c.condition.flag});
    }
    Json all = Json::array({"all", Json::array({"==", Json::array({"typeof", value}), "number"})});
    if (c.condition.from) {
        all.push_back(Json::array({">=", value, *c.condition.from}));
    }
    if (c.condition.to) {
        all.push_back(Json::array({"<", value, *c.condition.to}));
    }
    return all;
}

/// The condition as a filter; of the rest, that none of the others holds.
Json filter(const MapStyleSource& source, const LayerStyle& style, const StyleClass& c) {
    if (c.condition.kind != Kind::rest) {
        return condition(source, c);
    }
    Json any = Json::array({"any"});
    for (const StyleClass& other : style.classes) {
        if (other.condition.kind != Kind::rest) {
            any.push_back(condition(source, other));
        }
    }
    return Json::array({"!", any});
}

/// Dashes are measured in widths of the line there.
void add_line(Json& paint, const LineLook& line) {
    paint["line-color"] = line.colour;
    paint["line-width"] = line.width;
    if (!line.dash.empty()) {
        Json dash = Json::array();
        for (const double length : line.dash) {
            dash.push_back(length / line.width);
        }
        paint["line-dasharray"] = dash;
    }
}

class Writing {
public:
    Writing(const StyleSheet& sheet, const std::vector<MapStyleSource>& sources)
        : sheet_{sheet}, sources_{sources} {}

    Json layers() {
        layers_.push_back({{"id", "background"},
                           {"type", "background"},
                           {"paint", {{"background-color", "#F4F4F0"}}}});
        // What covers most goes to the bottom.
        for (const auto geometry :
             {StyleGeometry::area, StyleGeometry::line, StyleGeometry::point}) {
            for (const MapStyleSource& source : sources_) {
                for (const LayerStyle* style : sheet_.of_layer(source.layer)) {
                    if (style->geometry == geometry) {
                        add(source, *style);
                    }
                }
            }
        }
        return layers_;
    }

private:
    Json begin(const MapStyleSource& source,
               const LayerStyle& style,
               const std::string& id,
               const char* type) const {
        Json layer{{"id", id},
                   {"type", type},
                   {"source", source.source},
                   {"metadata", {{"linewood:layer", style.layer}, {"linewood:style", style.name}}}};
        if (!source.source_layer.empty()) {
            layer["source-layer"] = source.source_layer;
        }
        if (style.farthest) {
            layer["minzoom"] = rounded_zoom(*style.farthest);
        }
        layer["layout"] = {{"visibility", style.is_default && source.visible ? "visible" : "none"}};
        return layer;
    }

    void add(const MapStyleSource& source, const LayerStyle& style) {
        if (style.geometry == StyleGeometry::point) {
            add_points(source, style);
            return;
        }
        for (const auto* list : {&style.classes, &style.over}) {
            for (const StyleClass& c : *list) {
                if (style.geometry == StyleGeometry::line) {
                    add_class(source, style, c, "line", "", [&](Json& p) { add_line(p, c.line); });
                } else {
                    add_area(source, style, c);
                }
            }
        }
    }

    template <typename Paint>
    void add_class(const MapStyleSource& source,
                   const LayerStyle& style,
                   const StyleClass& c,
                   const char* type,
                   const char* part,
                   Paint paint) {
        Json layer = begin(source, style, class_key(style, c) + part, type);
        layer["filter"] = filter(source, style, c);
        layer["paint"] = Json::object();
        paint(layer["paint"]);
        layers_.push_back(std::move(layer));
    }

    void add_area(const MapStyleSource& source, const LayerStyle& style, const StyleClass& c) {
        if (!c.area.fill.empty()) {
            add_class(source, style, c, "fill", "", [&](Json& p) {
                p["fill-color"] = c.area.fill;
                p["fill-opacity"] = c.area.opacity;
            });
        }
        if (!c.area.hatch.empty()) {
            add_class(source, style, c, "fill", "-hatch", [&](Json& p) {
                p["fill-pattern"] = class_key(style, c);
            });
        }
        if (c.area.outline) {
            add_class(source, style, c, "line", "-outline", [&](Json& p) {
                add_line(p, *c.area.outline);
            });
        }
    }

    void add_points(const MapStyleSource& source, const LayerStyle& style) {
        Json image = Json::array({"case"});
        Json order = Json::array({"case"});
        int rank = 0;
        for (const StyleClass& c : style.classes) {
            if (c.condition.kind == Kind::rest) {
                image.push_back(class_key(style, c));
                order.push_back(0);
            } else {
                const Json holds = condition(source, c);
                image.push_back(holds);
                image.push_back(class_key(style, c));
                order.push_back(holds);
                order.push_back(++rank);
            }
        }
        Json layer = begin(source, style, style.name, "symbol");
        Json& layout = layer["layout"];
        layout["icon-image"] = image;
        layout["icon-allow-overlap"] = true;
        layout["icon-ignore-placement"] = true;
        layout["symbol-sort-key"] = order;
        if (!style.rotate_by.empty()) {
            layout["icon-rotate"] =
                Json::array({"to-number", field_value(source, style.rotate_by), 0});
            layout["icon-rotation-alignment"] = "map";
        }
        layers_.push_back(std::move(layer));
    }

    const StyleSheet& sheet_;
    const std::vector<MapStyleSource>& sources_;
    Json layers_ = Json::array();
};

Json rings_of(const MarkLook& mark) {
    Json rings = Json::array();
    for (const auto& ring : mark_rings(mark.shape, mark.outline_width / mark.size * 2.0)) {
        Json points = Json::array();
        for (const SvgPoint& p : ring) {
            points.push_back({std::round(p.x * 1e4) / 1e4, std::round(p.y * 1e4) / 1e4});
        }
        rings.push_back(points);
    }
    return rings;
}

}  // namespace

nlohmann::ordered_json maplibre_style(const StyleSheet& sheet,
                                      const std::vector<MapStyleSource>& sources) {
    Json named = Json::object();
    for (const MapStyleSource& source : sources) {
        named[source.source] = source.definition;
    }
    return {{"version", 8},
            {"name", "Linewood"},
            {"metadata", {{"linewood:marks", style_marks(sheet)}}},
            {"sources", named},
            {"layers", Writing{sheet, sources}.layers()}};
}

nlohmann::ordered_json style_marks(const StyleSheet& sheet) {
    Json marks = Json::array();
    for (const LayerStyle& style : sheet.styles) {
        for (const auto* list : {&style.classes, &style.over}) {
            for (const StyleClass& c : *list) {
                if (style.geometry == StyleGeometry::point) {
                    marks.push_back(
                        {{"id", class_key(style, c)},
                         {"shape", name_of(c.mark.shape)},
                         {"size", c.mark.size},
                         {"fill", c.mark.fill},
                         {"outline", c.mark.outline},
                         {"outline_width", is_tick(c.mark.shape) ? 0.0 : c.mark.outline_width},
                         {"rings", rings_of(c.mark)}});
                } else if (!c.area.hatch.empty()) {
                    marks.push_back({{"id", class_key(style, c)},
                                     {"shape", "hatch"},
                                     {"size", kHatchSide},
                                     {"fill", c.area.hatch},
                                     {"outline", c.area.hatch},
                                     {"outline_width", 1.0},
                                     {"rings", Json::array()}});
                }
            }
        }
    }
    return marks;
}

nlohmann::ordered_json style_classes(const LayerStyle& style) {
    Json out = Json::array();
    for (const StyleClass& c : style.classes) {
        Json row = Json::object();
        switch (c.condition.kind) {
            case Kind::text:
                row["value"] = c.condition.text;
                break;
            case Kind::flag:
                row["value"] = c.condition.flag;
                break;
            case Kind::rest:
                row["value"] = nullptr;
                break;
            case Kind::range:
                row["from"] = c.condition.from ? Json(*c.condition.from) : Json(nullptr);
                row["to"] = c.condition.to ? Json(*c.condition.to) : Json(nullptr);
                break;
        }
        row["label"] = c.label;
        if (style.geometry == StyleGeometry::point) {
            row["colour"] = c.mark.fill;
            row["mark"] = class_key(style, c);
        } else {
            row["colour"] = style.geometry == StyleGeometry::line ? c.line.colour : c.area.fill;
        }
        out.push_back(std::move(row));
    }
    return out;
}

}  // namespace linewood
