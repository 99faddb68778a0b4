#include "src/style/sld_style.hpp"

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
        : style_{style}, se_{version == SldVersion::se_1_1}, xml_{kHead} {}

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
        const ClassCondition& is = c.condition;
        if (is.kind == Kind::rest) {
            xml_.empty(own("ElseFilter"), {});
            return;
        }
        xml_.open("ogc:Filter");
        if (is.kind == Kind::text) {
            compare("ogc:PropertyIsEqualTo", c.field, is.text);
        } else if (is.kind == Kind::flag) {
            compare("ogc:PropertyIsEqualTo", c.field, is.flag ? "1" : "0");
        } else {
            if (is.from && is.to) {
                xml_.open("ogc:And");
            }
            if (is.from) {
                compare("ogc:PropertyIsGreaterThanOrEqualTo", c.field, number(*is.from));
            }
            if (is.to) {
                compare("ogc:PropertyIsLessThan", c.field, number(*is.to));
            }
            if (is.from && is.to) {
                xml_.close();
            }
        }
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
            line.dash = {mark.size / 4.0, mark.size / 8.0};
        } else if (mark.shape == MarkShape::dotted_tick) {
            line.dash = {mark.outline_width / 2.0, mark.outline_width};
        }
        return line;
    }

    void point(const MarkLook& mark) {
        symbolizer("PointSymbolizer");
        xml_.open(own("Graphic"));
        xml_.open(own("Mark"));
        if (is_tick(mark.shape)) {
            xml_.leaf(own("WellKnownName"), "shape://vertline");
            stroke(tick_stroke(mark));
        } else {
            xml_.leaf(own("WellKnownName"), name_of(mark.shape));
            xml_.open(own("Fill"));
            parameter("fill", mark.fill);
            xml_.close();
            stroke({mark.outline, mark.outline_width, {}});
        }
        xml_.close();
        xml_.leaf(own("Size"), svg_number(mark.size));
        if (is_tick(mark.shape) && !style_.rotate_by.empty()) {
            xml_.open(own("Rotation"));
            xml_.leaf("ogc:PropertyName", style_.rotate_by);
            xml_.close();
        }
        xml_.close();
        xml_.close();
    }

    void hatch(const std::string& colour) {
        xml_.open(own("GraphicFill"));
        xml_.open(own("Graphic"));
        xml_.open(own("Mark"));
        xml_.leaf(own("WellKnownName"), "shape://slash");
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
    XmlWriter xml_;
};

}  // namespace

std::string sld_style(const LayerStyle& style, SldVersion version, std::string_view layer) {
    return Writing{style, version}.document(layer);
}

}  // namespace linewood
