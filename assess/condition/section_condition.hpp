#pragma once

#include <optional>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/condition/section_limits.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/condition/shell_check.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/section/outline.hpp"
#include "assess/section/shape.hpp"

namespace linewood {

/// The strengths of a section now, as shares of the same section when sound, at most 1.
struct SectionStrengths {
    double area = 0.0;  ///< all that remains
    double governing = 0.0;
    double weakest = 0.0;  ///< where a pocket's place is not known, the least that it may be
    std::optional<double> transverse;    ///< load across the line; absent without an axis
    std::optional<double> longitudinal;  ///< load along the line
    Maybe<Axis> weakest_axis;            ///< absent where all directions agree
};

/// What a section is worth by the criteria.
enum class SectionOutcome : std::uint8_t {
    passes,
    fails,       ///< at least one limit is not met, whatever is missing
    incomplete,  ///< nothing fails on what is known, but something needed is missing
};

struct SectionCondition {
    Length height;
    Maybe<Length> original;  ///< absent where not known
    Maybe<Length> present;   ///< absent where not known
    /// Absent where something needed is missing, unless the section fails on what is known: then they
    /// are upper bounds.
    std::optional<SectionStrengths> strengths;
    bool upper_bound =
        false;  ///< something needed is missing: `strengths` are upper bounds, not values
    Maybe<Length> shell_min;  ///< at internal-rot bores and behind wide pockets; may be negative
    int pieces = 1;
    bool split = false;  ///< falls apart with more loss than the criteria allow
    SectionOutcome outcome = SectionOutcome::passes;
    /// Nothing that a pass needs is missing, and every size fits; also said of a section that fails.
    bool complete = true;
    CheckedLimits limits;
    ReasonSet reasons;  ///< limits that failed, and what is missing
    bool decay = false;
    bool internal_rot = false;
    SectionShape shape;  ///< as computed: every pocket placed
};

/// One load direction worked out.
struct WorkedDirection {
    Bearing load;
    ExtremeFibre fibre;
    double modulus = 0.0;  ///< m^3; of the weakest direction the exact least
    double share = 0.0;    ///< of the sound section; may exceed 1 by a little
};

/// One shape worked out: what carries, and what it bears.
struct WorkedShape {
    SectionShape shape;
    BendingFigures figures;
    double area = 0.0;  ///< all that remains, m^2
    double lost_share = 0.0;
    bool acts_together = false;
    std::optional<WorkedDirection> transverse;
    std::optional<WorkedDirection> longitudinal;
    WorkedDirection weakest;
    bool all_directions_agree = false;
};

/// How a section came to its figures: the very numbers used, for showing them.
struct SectionTrace {
    SurveyedSection survey;
    double sound_modulus =
        0.0;                  ///< m^3, of the original girth used (a bound where it is not known)
    double sound_area = 0.0;  ///< m^2
    std::optional<WorkedShape> worked;  ///< absent where there was no girth to work with
    /// Where a pocket whose place is not known makes the weakest direction weaker than the place where it
    /// makes the governing strength least.
    std::optional<WorkedShape> weaker_placed;
};

/// Where what is found beside the condition of a section goes.
struct SectionNotes {
    std::vector<DefectShell>& shells;  ///< of its defects
    Findings* findings = nullptr;      ///< doubts; may be null
    SectionTrace* trace = nullptr;     ///< how it was worked out; may be null
};

/// Strengths and limits of one surveyed section.
SectionCondition judge_section(const SurveyedSection& s,
                               std::span<const Defect> defects,
                               const LineDirection& line,
                               const Criteria& criteria,
                               SectionNotes notes);

}  // namespace linewood
