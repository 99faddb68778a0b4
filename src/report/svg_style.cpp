#include "src/report/svg_style.hpp"

namespace linewood {
namespace {

void open_pattern(SvgWriter& svg, std::string_view id, double size, const char* turn) {
    svg.open("pattern",
             {{"id", id},
              {"width", size},
              {"height", size},
              {"patternUnits", "userSpaceOnUse"},
              {"patternTransform", turn}});
}

void ground(SvgWriter& svg, double size, const char* fill) {
    svg.element("rect", {{"width", size}, {"height", size}, {"fill", fill}});
}

void stripe(SvgWriter& svg, double size, const char* stroke, double width) {
    svg.line({0.0, size / 2.0}, {size, size / 2.0}, {{"stroke", stroke}, {"stroke-width", width}});
}

}  // namespace

void define_hatches(SvgWriter& svg) {
    svg.open("defs");
    open_pattern(svg, "lw-hatch", 8.0, "rotate(-45)");
    ground(svg, 8.0, "#f0dfc0");
    stripe(svg, 8.0, "#8a6a35", 1.0);
    svg.close();
    open_pattern(svg, "lw-sparse", 10.0, "rotate(0)");
    ground(svg, 10.0, "#ffffff");
    stripe(svg, 10.0, "#777777", 1.0);
    svg.close();
    open_pattern(svg, "lw-rot", 7.0, "rotate(30)");
    ground(svg, 7.0, "#d9d9d9");
    svg.element("circle", {{"cx", 3.5}, {"cy", 3.5}, {"r", 1.5}, {"fill", "#333333"}});
    svg.close();
    open_pattern(svg, "lw-soil", 12.0, "rotate(35)");
    ground(svg, 12.0, "#f4f1ea");
    svg.line({0.0, 6.0}, {7.0, 6.0}, {{"stroke", "#998c70"}, {"stroke-width", 1.0}});
    svg.close();
    svg.close();
}

}  // namespace linewood
