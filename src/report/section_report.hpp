#pragma once

#include <span>
#include <string>

#include "assess/verdict/assessment.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// One section with what it was assessed from. Everything referred to must outlive the call.
struct SectionReportInput {
    /// Of a pole whose one section (at the groundline) is `assessment.sections.front()`.
    const PoleAssessment& assessment;
    std::span<const Defect> defects;  ///< in the order they were given; fid = position
    const LineDirection& line;
    const Criteria& criteria;
    const Findings& findings;
    std::string criteria_hash;  ///< of the whole profile
    UnitSystem units = UnitSystem::us;
};

/// For people: girths, strengths, shell, each limit with what is met, every defect with where it was
/// placed, verdict with reasons in words, doubts, cautions. Lines end in `\n`.
std::string section_report_text(const SectionReportInput& in);

/// The same as one JSON object, its keys those of the output layers where they name the same figure;
/// lengths in in or mm, shares in percent with nine decimals. Ends in `\n`.
std::string section_report_json(const SectionReportInput& in);

}  // namespace linewood
