#pragma once

#include <string>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/condition/section_condition.hpp"
#include "assess/record/line_direction.hpp"
#include "src/job/unit_system.hpp"
#include "src/report/svg.hpp"

namespace linewood {

/// What a section drawing shows. Everything referred to must outlive the call.
struct SectionDrawingInput {
    /// As assessed: its shape (every pocket placed), girths, strengths, shell.
    const SectionCondition& section;
    const LineDirection& line;
    const Criteria& criteria;
    UnitSystem units = UnitSystem::us;
    std::string title = "Section";  ///< e.g. the pole and the height; any text, shortened to fit
    std::string subtitle{};         ///< e.g. verdict and date; may be empty
    /// Positions in `section.shape.pockets` of those whose azimuth is not that of the
    /// record (none was given, or the recorded position contradicts it): marked as placed
    /// "where it costs most".
    std::vector<std::size_t> placed_pockets{};
    /// The readings of `section.shape.shell` have no true azimuth (the least all round): no bores are
    /// drawn, only the void.
    bool shell_all_round = false;
    SvgForm form = SvgForm::document;  ///< a fragment has no heading: the page has one
};

/// One cross-section as a stand-alone SVG document, or as a part of a page, north up.
///
/// Left: the original outline (dashed), the wood that remains (hatched; pieces that do not carry are
/// dotted with a dashed edge), pockets, void, bores, the line and what lies across it, the in-line and
/// out-of-line sectors on the rim, a scale bar. Right: remaining strength by load direction, the radius
/// proportional to S(a)/S0 capped at 100 %, with circles for 100 % and the limits, the weakest direction
/// marked, around a small copy of the section. Below: key numbers with limits, the defects, a legend.
/// Shape, hatch and dash carry every meaning; colour only helps.
///
/// Pockets are numbered as in the shape (P1, P2 ...), bores clockwise from north (B1, B2 ...); bores near
/// each other are one (see SectionShape). Where the original girth or the strengths are not known, the right side says so. Where nothing is
/// known to draw (no girth), the left side says so.
///
/// Accuracy: curves are drawn as polylines in steps of at most two degrees (off by 1.5e-4 of a radius),
/// coordinates to 0.01 of a pixel of 900. The strength curve is sampled each degree and at the weakest
/// direction. The same input gives the same bytes.
std::string section_drawing(const SectionDrawingInput& in);

}  // namespace linewood
