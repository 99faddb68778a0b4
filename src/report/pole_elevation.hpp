#pragma once

#include <span>
#include <string>

#include "assess/condition/criteria.hpp"
#include "assess/condition/original_girth.hpp"
#include "assess/condition/section_condition.hpp"
#include "assess/record/defect.hpp"
#include "assess/wood/table_girth.hpp"
#include "src/job/unit_system.hpp"
#include "src/report/svg.hpp"

namespace linewood {

/// What a pole elevation shows. Everything referred to must outlive the call.
struct PoleElevationInput {
    PoleEnds ends;           ///< tip and butt over the groundline, as far as known (pole_ends)
    OriginalGirth original;  ///< at the groundline, with the taper
    std::span<const SectionCondition> sections;  ///< lowest first
    std::span<const Defect> defects;             ///< of the visit shown
    const Criteria& criteria;
    UnitSystem units = UnitSystem::us;
    std::string title = "Pole";  ///< e.g. the pole's id; any text, shortened to fit
    std::string subtitle{};      ///< e.g. verdict and date; may be empty
    SvgForm form = SvgForm::document;
};

/// A side view of one pole as a stand-alone SVG document, or as a part of a page: tip, butt and burial depth, the taper of the
/// sound pole (dashed where it is not known), the groundline zone, every section with its remaining
/// strength, every defect at its height (with its extent, where recorded), a height scale.
///
/// Widths are drawn larger than heights. The stretch around the groundline zone has a larger height
/// scale than the rest; break marks on the pole and on the scale show where it changes. An end that is
/// not known is drawn torn and named so. Defects without a height are drawn at the groundline.
std::string pole_elevation(const PoleElevationInput& in);

}  // namespace linewood
