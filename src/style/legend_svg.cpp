#include "src/style/legend_svg.hpp"

#include <algorithm>

#include "src/report/svg.hpp"

namespace linewood {
namespace {

constexpr double kMargin = 20.0;
constexpr double kHeading = 52.0;
constexpr double kColumn = 350.0;
constexpr double kTitleRow = 26.0;
constexpr double kRow = 22.0;
constexpr double kGap = 16.0;
constexpr double kSwatch = 34.0;
constexpr std::string_view kLook =
    "  text{font-family:Arial,Helvetica,'DejaVu Sans',sans-serif;font-size:14px;fill:#1A1A1A}\n"
    "  .lw-title{font-size:20px;font-weight:bold}\n"
    "  .lw-head{font-size:15px;font-weight:bold}\n"
    "  .lw-page{fill:#fff}\n";

double height_of(const LayerStyle& style) {
    return kTitleRow + kRow * static_cast<double>(style.classes.size() + style.over.size()) + kGap;
}

std::string dash_text(const std::vector<double>& dash) {
    std::string out;
    for (const double length : dash) {
        out += (out.empty() ? "" : " ") + svg_number(length);
    }
    return out.empty() ? "none" : out;
}

void draw_mark(SvgWriter& svg, const MarkLook& mark, SvgPoint at, bool turned) {
    auto rings = mark_rings(mark.shape, mark.outline_width / mark.size * 2.0);
    constexpr double kTurn = 0.70710678118654752;
    for (auto& ring : rings) {
        for (SvgPoint& p : ring) {
            if (turned && is_tick(mark.shape)) {
                p = {(p.x - p.y) * kTurn, (p.x + p.y) * kTurn};
            }
            p = {at.x + p.x * mark.size / 2.0, at.y + p.y * mark.size / 2.0};
        }
    }
    if (is_tick(mark.shape)) {
        svg.element("path", {{"d", svg_path(rings)}, {"fill", mark.fill}});
        return;
    }
    // The outline lies outside the fill, as on the map: a mark keeps its size.
    svg.element("path",
                {{"d", svg_path(rings)},
                 {"fill", mark.fill},
                 {"stroke", mark.outline},
                 {"stroke-width", mark.outline_width},
                 {"stroke-linejoin", "round"}});
}

void draw_area(SvgWriter& svg, const AreaLook& area, SvgPoint at) {
    const double left = at.x - kSwatch / 2.0;
    const double top = at.y - 7.0;
    svg.element("rect",
                {{"x", left},
                 {"y", top},
                 {"width", kSwatch},
                 {"height", 14},
                 {"fill", area.fill.empty() ? "none" : area.fill},
                 {"fill-opacity", area.opacity},
                 {"stroke", area.outline ? area.outline->colour : "none"},
                 {"stroke-width", area.outline ? area.outline->width : 0.0},
                 {"stroke-dasharray", area.outline ? dash_text(area.outline->dash) : "none"}});
    if (!area.hatch.empty()) {
        constexpr double kStep = 7.0;
        for (double x = left; x + 14.0 <= left + kSwatch + 1e-9; x += kStep) {
            svg.line({x, top + 14.0}, {x + 14.0, top}, {{"stroke", area.hatch}});
        }
        svg.element("rect",
                    {{"x", left},
                     {"y", top},
                     {"width", kSwatch},
                     {"height", 14},
                     {"fill", "none"},
                     {"stroke", area.hatch},
                     {"stroke-width", 0.5}});
    }
}

void draw_class(SvgWriter& svg, const LayerStyle& style, const StyleClass& c, SvgPoint at) {
    const SvgPoint middle{at.x + kSwatch / 2.0, at.y};
    switch (style.geometry) {
        case StyleGeometry::point:
            draw_mark(svg, c.mark, middle, !style.rotate_by.empty());
            break;
        case StyleGeometry::line:
            svg.line({at.x, at.y},
                     {at.x + kSwatch, at.y},
                     {{"stroke", c.line.colour},
                      {"stroke-width", c.line.width},
                      {"stroke-dasharray", dash_text(c.line.dash)}});
            break;
        case StyleGeometry::area:
            draw_area(svg, c.area, middle);
            break;
    }
    svg.text({at.x + kSwatch + 12.0, at.y + 5.0}, c.label);
}

void draw_style(SvgWriter& svg, const LayerStyle& style, SvgPoint at) {
    svg.text({at.x, at.y + 15.0}, svg_shortened(style.title, 44), {{"class", "lw-head"}});
    double y = at.y + kTitleRow + kRow / 2.0;
    for (const auto* list : {&style.classes, &style.over}) {
        for (const StyleClass& c : *list) {
            draw_class(svg, style, c, {at.x, y});
            y += kRow;
        }
    }
}

}  // namespace

std::string legend_svg(const std::vector<const LayerStyle*>& styles, std::string_view title) {
    double all = 0.0;
    for (const LayerStyle* style : styles) {
        all += height_of(*style);
    }
    // The second column begins where the first holds half.
    std::vector<SvgPoint> places;
    double y = 0.0;
    double deepest = 0.0;
    double left = kMargin;
    for (const LayerStyle* style : styles) {
        if (left == kMargin && y > 0.0 && y + height_of(*style) / 2.0 > all / 2.0) {
            left += kColumn;
            y = 0.0;
        }
        places.push_back({left, kHeading + y});
        y += height_of(*style);
        deepest = std::max(deepest, y);
    }
    const double width = left + kColumn;
    SvgWriter svg{width,
                  kHeading + deepest + kMargin - kGap,
                  title,
                  "Marks, lines and fills of the map with their meaning.",
                  kLook};
    svg.element(
        "rect",
        {{"class", "lw-page"}, {"width", width}, {"height", kHeading + deepest + kMargin - kGap}});
    svg.text({kMargin, 32.0}, title, {{"class", "lw-title"}});
    for (std::size_t i = 0; i < styles.size(); ++i) {
        draw_style(svg, *styles[i], places[i]);
    }
    return svg.finish();
}

std::string legend_svg(const StyleSheet& sheet) {
    std::vector<const LayerStyle*> all;
    for (const LayerStyle& style : sheet.styles) {
        all.push_back(&style);
    }
    return legend_svg(all, "Legend");
}

}  // namespace linewood
