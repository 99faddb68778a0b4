#pragma once

#include <cstddef>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/section/shape.hpp"

namespace linewood {

/// Is there any shell? Not where rot begins at the surface, or behind a pocket at its bottom (within 1 nm: what
/// rounding leaves of a difference of equals is none).
inline bool is_shell(Length effective) { return effective.metres() > 1e-9; }

/// One shell figure of a defect: effective at a bore, what is left behind a pocket.
struct DefectShell {
    std::size_t defect = 0;  ///< position in the pole's defects
    Length shell;
};

/// The shell figures of a section, appended to `shells`: at every internal-rot bore, and, where one
/// was measured, behind every pocket wide enough to count (there it may be negative).
///
/// Behind a pocket is the shell at its azimuth less its depth; where the azimuth is not recorded, or
/// its position contradicts it, the least that its place leaves possible: a missing azimuth gives no
/// pass. Where the present girth is not known the shell behind a pocket is an upper bound, and is
/// given only where it fails its limit.
///
/// @param shape of the section, or of one at least as stout. @return the least of them.
Maybe<Length> check_shell(const SurveyedSection& s,
                          const SectionShape& shape,
                          const LineDirection& line,
                          const Criteria& criteria,
                          std::vector<DefectShell>& shells);

}  // namespace linewood
