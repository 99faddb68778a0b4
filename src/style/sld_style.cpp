#include "src/style/sld_style.hpp"

#include <algorithm>
#include <array>

#include "src/report/svg.hpp"
#include "src/style/xml_writer.hpp"

namespace linewood {
namespace {

using Kind = ClassCondition::Kind;

constexpr std::string_view kHead = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n";
constexpr std::string_view kSld = "http://www.opengis.net/sld";
constexpr std::string_view kOgc = "http://www.opengis.net/ogc";
constexpr std::string_view kSe = "http://www.opengis.net/se";
constexpr std::string_view kHatchSize = "8";

std::string joined(const std::vector<double>& lengths) {
    std::string out;
    for (const double length : lengths) {
        out += (out.empty() ? "" : " ") + svg_number(length);
    }
    return out;
}

class Writing {
public:
    Writing(const LayerStyle& style, SldVersion version)
        : style_{style},
          se_{version == SldVersion::se_1_1},
          mapserver_{version == SldVersion::mapserver},
          xml_{kHead} {}

    std::string document(std::string_view layer) {
        if (se_) {
            xml_.open(
                "StyledLayerDescriptor",
                {{"version", "1.1.0"}, {"xmlns", kSld}, {"xmlns:ogc", kOgc}, {"xmlns:se", kSe}});
        } else {
            xml_.open("StyledLayerDescriptor",
                      {{"version", "1.0.0"}, {"xmlns", kSld}, {"xmlns:ogc", kOgc}});
        }
        xml_.open("NamedLayer");
        xml_.leaf(own("Name"), layer.empty() ? style_.layer : layer);
        xml_.open("UserStyle");
        xml_.leaf(own("Name"), style_.name);
        describe(style_.title, style_.note);
        xml_.leaf("IsDefault", style_.is_default ? "1" : "0");
        rules(style_.classes);
        if (!style_.over.empty()) {
            rules(style_.over);
        }
        return xml_.finish();
    }

private:
    /// A name that is in the namespace of Symbology Encoding from 1.1 on.
    std::string own(std::string_view name) const { return (se_ ? "se:" : "") + std::string{name}; }

    void describe(std::string_view title, std::string_view abstract) {
        if (se_) {
            xml_.open("se:Description");
        }
        xml_.leaf(own("Title"), title);
        if (!abstract.empty()) {
            xml_.leaf(own("Abstract"), abstract);
        }
        if (se_) {
            xml_.close();
        }
    }

    void rules(const std::vector<StyleClass>& classes) {
        xml_.open(own("FeatureTypeStyle"));
        for (const StyleClass& c : classes) {
            xml_.open(own("Rule"));
            xml_.leaf(own("Name"), c.id);
            describe(c.label, "");
            condition(c);
            if (style_.farthest) {
                xml_.leaf(own("MaxScaleDenominator"), svg_number(*style_.farthest));
            }
            symbol(c);
            xml_.close();
        }
        xml_.close();
    }

    void compare(const char* how, const std::string& field, std::string_view value) {
        xml_.open(how);
        xml_.leaf("ogc:PropertyName", field);
        xml_.leaf("ogc:Literal", value);
        xml_.close();
    }

    void condition(const StyleClass& c) {
        if (c.condition.kind != Kind::rest) {
            xml_.open("ogc:Filter");
            holds(c);
            xml_.close();
        } else if (style_.over.empty() || !mapserver_) {
            xml_.empty(own("ElseFilter"), {});
        } else {
            xml_.open("ogc:Filter");
            none_of_the_others();
            xml_.close();
        }
    }

    void none_of_the_others() {
        xml_.open("ogc:Not");
        xml_.open("ogc:Or");
        for (const StyleClass& other : style_.classes) {
            if (other.condition.kind != Kind::rest) {
                holds(other);
            }
        }
        xml_.close();
        xml_.close();
    }

    void holds(const StyleClass& c) {
        const ClassCondition& is = c.condition;
        if (is.kind == Kind::text) {
            compare("ogc:PropertyIsEqualTo", c.field, is.text);
            return;
        }
        // Some readers take an absent value for 0.
        xml_.open("ogc:And");
        known(c.field);
        if (is.kind == Kind::flag) {
            compare("ogc:PropertyIsEqualTo", c.field, is.flag ? "1" : "0");
        }
        if (is.from) {
            compare("ogc:PropertyIsGreaterThanOrEqualTo", c.field, number(*is.from));
        }
        if (is.to) {
            compare("ogc:PropertyIsLessThan", c.field, number(*is.to));
        }
        xml_.close();
    }

    void known(const std::string& field) {
        if (mapserver_) {
            compare("ogc:PropertyIsNotEqualTo", field, "");
            return;
        }
        xml_.open("ogc:Not");
        xml_.open("ogc:PropertyIsNull");
        xml_.leaf("ogc:PropertyName", field);
        xml_.close();
        xml_.close();
    }

    void parameter(std::string_view name, std::string_view value) {
        xml_.leaf(se_ ? "se:SvgParameter" : "CssParameter", value, {{"name", name}});
    }

    void stroke(const LineLook& line) {
        xml_.open(own("Stroke"));
        parameter("stroke", line.colour);
        parameter("stroke-width", svg_number(line.width));
        if (!line.dash.empty()) {
            parameter("stroke-dasharray", joined(line.dash));
        }
        xml_.close();
    }

    void symbolizer(const char* name) {
        if (se_) {
            xml_.open(own(name), {{"uom", "http://www.opengeospatial.org/se/units/pixel"}});
        } else {
            xml_.open(name);
        }
    }

    void symbol(const StyleClass& c) {
        switch (style_.geometry) {
            case StyleGeometry::point:
                point(c.mark);
                return;
            case StyleGeometry::line:
                symbolizer("LineSymbolizer");
                stroke(c.line);
                xml_.close();
                return;
            case StyleGeometry::area:
                area(c.area);
                return;
        }
    }

    static LineLook tick_stroke(const MarkLook& mark) {
        LineLook line{mark.fill, mark.outline_width, {}};
        if (mark.shape == MarkShape::dashed_tick) {
            line.dash = {mark.size * kDashOfTick / 2.0, mark.size * (1.0 - kDashOfTick)};
        } else if (mark.shape == MarkShape::dotted_tick) {
            line.dash = {mark.outline_width, (mark.size - 3.0 * mark.outline_width) / 2.0};
        }
        return line;
    }

    void point(const MarkLook& mark) {
        symbolizer("PointSymbolizer");
        xml_.open(own("Graphic"));
        xml_.open(own("Mark"));
        if (is_tick(mark.shape)) {
            mark_name(mapserver_ ? name_of(mark.shape) : "shape://vertline");
            stroke(tick_stroke(mark));
        } else {
            mark_name(name_of(mark.shape));
            xml_.open(own("Fill"));
            parameter("fill", mark.fill);
            xml_.close();
            stroke({mark.outline, mark.outline_width, {}});
        }
        xml_.close();
        xml_.leaf(own("Size"), svg_number(mark.size));
        if (is_tick(mark.shape) && !style_.rotate_by.empty()) {
            rotation();
        }
        xml_.close();
        xml_.close();
    }

    /// MapServer draws `x` and `cross` as strokes, and knows no others but from a file of symbols.
    void mark_name(std::string_view name) {
        constexpr std::array<std::string_view, 4> kDrawnAlike{
            "circle", "square", "triangle", "star"};
        const bool other = mapserver_ && std::find(kDrawnAlike.begin(), kDrawnAlike.end(), name) ==
                                             kDrawnAlike.end();
        xml_.leaf(own("WellKnownName"), (other ? "linewood_" : "") + std::string{name});
    }

    void rotation() {
        xml_.open(own("Rotation"));
        if (mapserver_) {
            xml_.open("ogc:Sub");
            xml_.leaf("ogc:Literal", "360");
            xml_.leaf("ogc:PropertyName", style_.rotate_by);
            xml_.close();
        } else {
            xml_.leaf("ogc:PropertyName", style_.rotate_by);
        }
        xml_.close();
    }

    void hatch(const std::string& colour) {
        xml_.open(own("GraphicFill"));
        xml_.open(own("Graphic"));
        xml_.open(own("Mark"));
        mark_name(mapserver_ ? "hatch" : "shape://slash");
        stroke({colour, 1.0, {}});
        xml_.close();
        xml_.leaf(own("Size"), kHatchSize);
        xml_.close();
        xml_.close();
    }

    void area(const AreaLook& area) {
        symbolizer("PolygonSymbolizer");
        if (!area.fill.empty() || !area.hatch.empty()) {
            xml_.open(own("Fill"));
            if (!area.hatch.empty()) {
                hatch(area.hatch);
            }
            if (!area.fill.empty()) {
                parameter("fill", area.fill);
                parameter("fill-opacity", svg_number(area.opacity));
            }
            xml_.close();
        }
        if (area.outline) {
            stroke(*area.outline);
        }
        xml_.close();
    }

    /// Limits may be finer than the hundredths of a drawing.
    static std::string number(double v) {
        std::string text = std::to_string(v);
        text.erase(text.find_last_not_of('0') + 1);
        if (text.back() == '.') {
            text.pop_back();
        }
        return text;
    }

    const LayerStyle& style_;
    bool se_;
    bool mapserver_;
    XmlWriter xml_;
};

}  // namespace

std::string sld_style(const LayerStyle& style, SldVersion version, std::string_view layer) {
    return Writing{style, version}.document(layer);
}

}  // namespace linewood
