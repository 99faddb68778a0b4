#pragma once

#include <cstddef>
#include <string>

#include "src/report/worksheet.hpp"
#include "src/report/worksheet_figures.hpp"

namespace linewood {

// The parts of a worksheet, each in a file of its own.

/// Verdict and figures as the poles layer has them, reasons in words, the pole's elevation.
SheetPart result_part(const WorksheetInput& in);
/// What the layers say, word for word, with what it was used as and what was assumed.
SheetPart recorded_part(const WorksheetInput& in);
/// The original girth at the groundline, step by step.
SheetPart original_part(const WorksheetInput& in);
/// Every section with its drawing, girths, strengths, limits.
SheetPart sections_part(const WorksheetInput& in);
/// The rules one by one, urgency, reasons.
SheetPart verdict_part(const WorksheetInput& in);
/// Limits and settings with their sources.
SheetPart criteria_part(const WorksheetInput& in);
SheetPart findings_part(const WorksheetInput& in);
SheetPart cautions_part(const WorksheetInput& in);

/// Properties and strengths of a section that was worked out. @pre in.trace.sections[i].worked
void add_strength_tables(const WorksheetInput& in, std::size_t i, SheetPart& part);
/// The same by a closed form a calculator can do, where there is one.
void add_hand_check(const WorksheetInput& in, std::size_t i, SheetPart& part);
/// What a section has: pockets and bores with their figures.
SheetTable defects_table(const WorksheetInput& in, std::size_t i);

/// Pockets of a section whose place is not the recorded azimuth.
bool was_placed(const SectionTrace& trace, std::size_t pocket);
/// Some internal-rot bore of the section has no azimuth to count on: the least shell is taken all round.
bool shell_is_all_round(const WorksheetInput& in, const SectionTrace& trace);
/// `D3`: the visit's third defect. @param defect position in the pole's defects
std::string defect_label(const WorksheetInput& in, std::size_t defect);
/// `, in line` where there is an axis.
std::string sector_words(const WorksheetInput& in, Maybe<Bearing> azimuth);
/// `the section at 3 ft`.
std::string section_words(const WorksheetInput& in, std::size_t i);

}  // namespace linewood
