#pragma once

#include "assess/condition/criteria.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/record/finding.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/section/remaining_section.hpp"

namespace linewood {

/// The strength that governs, as a section modulus: across the line where that governs, else in the
/// weakest direction.
double governing_modulus(const RemainingSection& section,
                         const LineDirection& line,
                         const Criteria& criteria);

/// The shape of a surveyed section, every pocket placed.
///
/// Bores near each other are merged (the least stands). Where any internal-rot bore has no azimuth,
/// the least thickness is taken all round. A pocket without a direction goes where the governing
/// strength is least: within the sector of its recorded position, edges included, else anywhere; in
/// steps of one degree, the largest width x depth first. Where a recorded position and azimuth
/// disagree the worse of the two is used, with a finding.
///
/// Pockets of the result are in the order of `s.pockets`.
/// @pre s.present is known.
SectionShape place_defects(const SurveyedSection& s,
                           std::span<const Defect> defects,
                           const LineDirection& line,
                           const Criteria& criteria,
                           Findings* findings);

}  // namespace linewood
