#pragma once

#include <string>
#include <vector>

#include "src/report/section_drawing.hpp"
#include "src/report/section_drawing_outline.hpp"
#include "src/report/svg.hpp"

namespace linewood {

/// The parts of a section drawing, and what they share.
struct SectionParts {
    const SectionDrawingInput& in;
    std::vector<DrawnPiece> pieces;   ///< of in.section.shape; empty where there is no girth
    PlanRing rot;                     ///< the void's outline
    std::vector<ShellReading> shell;  ///< of in.section.shape, clockwise from north: B1, B2 ...

    bool has_shape() const { return in.section.shape.radius > Length{}; }
    /// Strengths as assessed can be drawn: both girths and the strengths are known.
    bool has_strengths() const {
        return has_shape() && in.section.strengths.has_value() && in.section.original.has_value();
    }
    /// Radius of the larger of the two outlines.
    Length outer_radius() const;
    bool has_lost_pieces() const;
    /// The girth now is not known: the outline is that of the original, not of wood that was found.
    bool is_outline_assumed() const { return has_shape() && !in.section.present; }
};

/// Where a section is drawn: centre, and pixels for one metre.
struct PlanFrame {
    SvgPoint centre;
    double scale = 1.0;

    SvgPoint at(PlanPoint p) const {
        return {centre.x + p.east * scale, centre.y - p.north * scale};
    }
    std::string path(const std::vector<PlanRing>& rings) const;
};

/// The point at `radius` pixels from `centre` towards a bearing.
SvgPoint towards(SvgPoint centre, double degrees, double radius);

/// A text beside a point in the direction of a bearing, so that it runs away from the centre.
void text_outward(
    SvgWriter& svg, SvgPoint centre, double degrees, double radius, const std::string& text);

/// Void, pockets and pieces of wood, in the order in which they lie on each other.
void draw_cut(SvgWriter& svg, const SectionParts& parts, const PlanFrame& frame);

/// Left panel. @param radius pixels of the larger outline.
void draw_plan(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius);

/// Right panel. @param radius pixels of 100 %.
void draw_rose(SvgWriter& svg, const SectionParts& parts, SvgPoint centre, double radius);

/// Which of the labels at these azimuths are shown: all where there is room for all, else, clockwise,
/// those at least `gap` degrees from the one before. In the order given.
std::vector<bool> shown_labels(const std::vector<double>& azimuths, double gap);

/// Directions between labels of the plan, degrees.
inline constexpr double kLabelGap = 13.0;
/// Azimuths of the pockets, then of the bores that are drawn.
std::vector<double> label_azimuths(const SectionParts& parts);

/// Height the notes take.
double height_of_notes(const SectionParts& parts);
/// Key numbers, defects and legend below `top`.
void draw_notes(SvgWriter& svg, const SectionParts& parts, double top);

/// Directions moved apart so that neighbours are at least `gap` degrees away from each other (less
/// where there is no room), each as near as that allows to where it was. In the order given.
std::vector<double> spread_around(const std::vector<double>& wanted, double gap);

/// A length for people: girths in hundredths of an inch or tenths of a millimetre, no unit.
std::string figure_text(Length l, UnitSystem units);
/// A share as `67.3 %`; with more decimals where one alone would not show on which side of `limit` it
/// lies.
std::string share_text(double share, double limit);
std::string share_text(double share);

}  // namespace linewood
