#pragma once

#include <cstdint>
#include <span>

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

/// Whether the place of a pocket is to be looked for: no azimuth is recorded, or its position
/// contradicts it.
bool is_open(const SurveyedPocket& p, const LineDirection& line, const Criteria& criteria);

/// A finding for each pocket or bore whose recorded position and azimuth disagree.
void note_position_conflicts(const SurveyedSection& s,
                             std::span<const Defect> defects,
                             const LineDirection& line,
                             const Criteria& criteria,
                             Findings& findings);

/// Which strength an open pocket makes least.
enum class Sought : std::uint8_t { governing, weakest };

/// The shape of a surveyed section, every pocket placed.
///
/// Bores near each other are merged (the least stands). Where any internal-rot bore has no azimuth, or
/// one that its recorded position contradicts, the least thickness is taken all round. An open pocket goes where the strength sought is least:
/// within the sector of its recorded position, edges included, else anywhere; in steps of one
/// degree, the largest width x depth first. Where a recorded position and azimuth disagree the worse
/// of the two is used.
///
/// Pockets of the result are in the order of `s.pockets`. Cost: up to 360 sections an open pocket.
/// @pre s.present is known.
SectionShape place_defects(const SurveyedSection& s,
                           const LineDirection& line,
                           const Criteria& criteria,
                           Sought sought = Sought::governing);

}  // namespace linewood
