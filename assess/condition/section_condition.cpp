#include "assess/condition/section_condition.hpp"

#include <algorithm>
#include <numbers>

#include "assess/condition/placement.hpp"
#include "assess/condition/sectors.hpp"
#include "assess/section/remaining_section.hpp"

namespace linewood {
namespace {

double share(double now, double sound) { return std::min(1.0, now / sound); }

SectionStrengths strengths_of(const RemainingSection& section,
                              Length original,
                              const LineDirection& line,
                              const Criteria& criteria) {
    const double sound = solid_modulus(original);
    const double c0 = original.metres();
    const double sound_area = c0 * c0 / (4.0 * std::numbers::pi);
    SectionStrengths s;
    const WeakestDirection weakest = section.weakest();
    s.area = share(section.area(), sound_area);
    s.weakest = share(weakest.modulus, sound);
    s.weakest_axis = weakest.axis;
    if (line.axis) {
        const double along = line.axis->degrees();
        s.transverse = share(section.modulus(Bearing::degrees(along + 90.0)), sound);
        s.longitudinal = share(section.modulus(Bearing::degrees(along)), sound);
    }
    s.governing = share(governing_modulus(section, line, criteria), sound);
    return s;
}

/// A pocket without a place stands where the governing strength is least, which another place may
/// beat for the weakest direction: no pass without looking there as well.
void look_for_weaker_places(const SurveyedSection& s,
                            const LineDirection& line,
                            const Criteria& criteria,
                            const SectionShape& shape,
                            SectionStrengths& strengths) {
    const bool several = shape.pockets.size() + (shape.shell.empty() ? 0 : 1) > 1;
    const bool any_open = std::any_of(s.pockets.begin(), s.pockets.end(), [&](const auto& p) {
        return is_open(p, line, criteria);
    });
    if (!several || !any_open || !transverse_governs(line, criteria)) {
        return;  // alone, its worst place is the same for every direction
    }
    const RemainingSection section{place_defects(s, line, criteria, Sought::weakest)};
    const WeakestDirection weakest = section.weakest();
    const double least = share(weakest.modulus, solid_modulus(*s.original));
    if (least < strengths.weakest) {
        strengths.weakest = least;
        strengths.weakest_axis = weakest.axis;
    }
}

void check_limits(const SurveyedSection& s, const Criteria& criteria, SectionCondition& c) {
    if (c.strengths) {
        c.reasons.add_if(!criteria.meets(c.strengths->governing, criteria.governing_strength_min),
                         Reason::strength_below_limit);
        c.reasons.add_if(!criteria.meets(c.strengths->weakest, criteria.weakest_strength_min),
                         Reason::weakest_below_limit);
        c.reasons.add_if(!criteria.meets(*s.present / *s.original, criteria.girth_ratio_min),
                         Reason::circumference_below_limit);
    }
    c.reasons.add_if(
        c.shell_min && !criteria.meets(c.shell_min->metres(), criteria.shell_min.metres()),
        Reason::shell_below_limit);
    c.reasons.add_if(c.split, Reason::section_split);
}

}  // namespace

SectionCondition judge_section(const SurveyedSection& s,
                               std::span<const Defect> defects,
                               const LineDirection& line,
                               const Criteria& criteria,
                               std::vector<DefectShell>& shells,
                               Findings* findings) {
    SectionCondition c;
    c.height = s.height;
    c.decay = s.decay;
    c.internal_rot = s.has_internal_rot();
    if (s.original_known) {
        c.original = s.original;
    }
    if (s.present_known) {
        c.present = s.present;
    }
    if (findings != nullptr) {
        note_position_conflicts(s, defects, line, criteria, *findings);
    }
    if (s.present && *s.original > Length{}) {
        c.shape = place_defects(s, line, criteria);
        const RemainingSection section{c.shape};
        c.strengths = strengths_of(section, *s.original, line, criteria);
        look_for_weaker_places(s, line, criteria, c.shape, *c.strengths);
        c.pieces = section.pieces();
        c.split = section.lost_share() > criteria.split_loss_max * (1.0 + criteria.limit_tolerance);
    }
    if (!s.present && c.internal_rot && !s.pockets.empty()) {
        // Without a girth the shell behind a pocket can still fail: no real pole is stouter than this.
        SurveyedSection stout = s;
        stout.present = criteria.girth_high;
        c.shape = place_defects(stout, line, criteria);
    }
    c.shell_min = check_shell(s, c.shape, line, criteria, shells);
    check_limits(s, criteria, c);

    c.upper_bound = !s.missing.empty();
    ReasonSet missing = s.missing;
    missing.add_if(s.impossible, Reason::geometry_impossible);
    c.complete = missing.empty();
    if (!c.reasons.empty()) {
        c.outcome = SectionOutcome::fails;
    } else if (!c.complete) {
        c.outcome = SectionOutcome::incomplete;
    }
    if (c.outcome == SectionOutcome::incomplete && !s.missing.empty()) {
        c.strengths.reset();
    }
    c.reasons.add(missing);
    return c;
}

}  // namespace linewood
