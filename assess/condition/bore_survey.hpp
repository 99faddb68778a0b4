#pragma once

#include "assess/condition/section_survey.hpp"

namespace linewood {

/// Fills `s.bores` from the bores of the section: the recorded thickness made effective
/// (a bore at 45 degrees x 0.7, at another angle b x cos b) and measured from the present surface (a
/// bore made from a pocket has that pocket's depth added).
/// @pre `s.pockets` and `s.present` are settled.
void survey_bores(const SurveyInput& in, SurveyedSection& s, Findings* findings);

}  // namespace linewood
