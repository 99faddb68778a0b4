#pragma once

#include <optional>
#include <span>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/condition/original_girth.hpp"
#include "assess/condition/section_condition.hpp"
#include "assess/record/defect.hpp"
#include "assess/record/finding.hpp"
#include "assess/record/inspection.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/record/pole.hpp"
#include "assess/verdict/verdict.hpp"
#include "assess/wood/table_girth.hpp"
#include "assess/wood/wood_tables.hpp"

namespace linewood {

/// Everything known of one pole.
struct PoleFile {
    const Pole& pole;
    const LineDirection& line;
    std::span<const Inspection> inspections;
    std::span<const Defect> defects;
};

/// The assessment of one pole by its latest inspection.
struct PoleAssessment {
    Verdict verdict = Verdict::unassessed;
    Urgency urgency = Urgency::none;
    ReasonSet reasons;
    std::vector<SectionCondition>
        sections;  ///< lowest first; empty where not inspected or not wood
    /// The section of least governing strength relative to its limit (at equality the lowest), of
    /// those with a figure; nothing where none has.
    std::optional<std::size_t> worst_section;
    Maybe<Length> original;  ///< at the groundline
    OriginalSource original_source = OriginalSource::none;
    Maybe<Length> shell_min;  ///< over all sections; absent where no internal rot was measured
    std::optional<Date> inspected_on;
    std::vector<DefectShell> shells;  ///< of the defects of every visit
};

/// How a pole came to its assessment: the very values used, for showing them.
struct PoleTrace {
    TableLookup lookup;
    PoleEnds ends;
    std::vector<Visit> visits;     ///< oldest first
    std::optional<Visit> visit;    ///< the one the assessment is of
    OriginalGirth original_found;  ///< before the groundline's own girths raised it
    OriginalGirth original;
    std::vector<SectionTrace> sections;  ///< as PoleAssessment::sections
    VerdictFacts facts;
};

/// Assesses a pole. The latest inspection counts; of several on that day, the worse. Earlier ones are
/// history: a failed section or extensive damage seen then and not now is a finding.
/// How it was done goes to `trace`, if not null.
/// Doubts go to `findings`; those about the pole itself leave `feature` empty for the caller to fill.
PoleAssessment assess_pole(const PoleFile& file,
                           const WoodTables& tables,
                           const Criteria& criteria,
                           Findings& findings,
                           PoleTrace* trace = nullptr);

}  // namespace linewood
