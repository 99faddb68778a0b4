#include "assess/condition/section_condition.hpp"

#include <algorithm>
#include <numbers>

#include "assess/condition/placement.hpp"
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

/// The shell figures of a section: at every internal-rot bore, and behind every wide pocket of a
/// section with internal rot. Needs no girth where the bores alone tell.
class ShellCheck {
public:
    ShellCheck(const SurveyedSection& s, const Criteria& criteria, std::vector<DefectShell>& shells)
        : s_{s}, criteria_{criteria}, shells_{shells} {}

    Maybe<Length> least(const SectionShape& shape) {
        for (const SurveyedBore& b : s_.bores) {
            if (!b.sound && b.shell) {
                take(b.defect, *b.shell);
            }
        }
        for (std::size_t i = 0; least_ && i < shape.pockets.size(); ++i) {
            const Pocket& p = shape.pockets[i];
            if (p.width > criteria_.shell_pocket_width * (1.0 + criteria_.limit_tolerance)) {
                take(s_.pockets[i].defect, *shell_at(shape, p.azimuth) - p.depth);
            }
        }
        return least_;
    }

private:
    void take(std::size_t defect, Length shell) {
        least_ = std::min(shell, least_.value_or(shell));
        shells_.push_back({defect, shell});
    }

    const SurveyedSection& s_;
    const Criteria& criteria_;
    std::vector<DefectShell>& shells_;
    Maybe<Length> least_;
};

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
    if (s.present && *s.original > Length{}) {
        c.shape = place_defects(s, defects, line, criteria, findings);
        const RemainingSection section{c.shape};
        c.strengths = strengths_of(section, *s.original, line, criteria);
        c.pieces = section.pieces();
        c.split = section.lost_share() > criteria.split_loss_max * (1.0 + criteria.limit_tolerance);
    }
    if (!s.present && c.internal_rot && !s.pockets.empty()) {
        // Without a girth the shell behind a pocket can still fail: no real pole is stouter than this.
        SurveyedSection stout = s;
        stout.present = criteria.girth_high;
        c.shape = place_defects(stout, defects, line, criteria, findings);
    }
    c.shell_min = ShellCheck{s, criteria, shells}.least(c.shape);
    check_limits(s, criteria, c);

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
