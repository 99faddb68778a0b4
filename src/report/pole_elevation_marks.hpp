#pragma once

#include <string>

#include "assess/record/defect.hpp"
#include "src/report/svg.hpp"

namespace linewood {

// The signs of a pole elevation, drawn the same on the pole and in its legend. `half` is half the width
// of the pole there, in pixels.

/// A zigzag line: two of them a break, one a torn end.
void draw_zigzag(SvgWriter& svg, double y, double left, double right);
/// One kind of defect on a pole around `at`.
void draw_defect_mark(SvgWriter& svg, DefectKind kind, SvgPoint at, double half);
/// A section as a bar of its present width; dashed where that is not known.
void draw_section_mark(SvgWriter& svg, SvgPoint at, double half, bool known);
/// A vertical extent.
void draw_extent_mark(SvgWriter& svg, double x, double top, double bottom);

/// What the words of a legend depend on.
struct ElevationLegend {
    bool girth_known = true;
    bool taper_known = true;
    std::string zone_top;  ///< with its unit
    std::string height_unit;
};
/// The legend in five rows below `top`, between `left` and `right`.
void draw_elevation_legend(
    SvgWriter& svg, const ElevationLegend& legend, double top, double left, double right);

}  // namespace linewood
