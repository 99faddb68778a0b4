#include "assess/condition/section_condition.hpp"

#include <algorithm>
#include <numbers>

#include "assess/condition/placement.hpp"
#include "assess/condition/sectors.hpp"
#include "assess/section/remaining_section.hpp"

namespace linewood {
namespace {

double share(double now, double sound) { return std::min(1.0, now / sound); }

double sound_area(Length original) {
    const double c0 = original.metres();
    return c0 * c0 / (4.0 * std::numbers::pi);
}

WorkedDirection work_direction(const RemainingSection& section, Bearing load, double sound) {
    const ExtremeFibre fibre = section.extreme_fibre(load);
    const double modulus = section.modulus(load);
    return {load, fibre, modulus, modulus / sound};
}

/// For showing how it was done; nothing is decided by it.
WorkedShape work_shape(const RemainingSection& section,
                       const SectionShape& shape,
                       const LineDirection& line,
                       double sound) {
    WorkedShape w;
    w.shape = shape;
    w.figures = section.figures();
    w.area = section.area();
    w.lost_share = section.lost_share();
    w.acts_together = section.acts_together();
    if (line.axis) {
        const double along = line.axis->degrees();
        w.transverse = work_direction(section, Bearing::degrees(along + 90.0), sound);
        w.longitudinal = work_direction(section, Bearing::degrees(along), sound);
    }
    const WeakestDirection weakest = section.weakest();
    w.all_directions_agree = !weakest.axis;
    w.weakest =
        work_direction(section, Bearing::degrees(weakest.axis.value_or(Axis{}).degrees()), sound);
    w.weakest.modulus = weakest.modulus;
    w.weakest.share = weakest.modulus / sound;
    return w;
}

SectionStrengths strengths_of(const RemainingSection& section,
                              Length original,
                              const LineDirection& line,
                              const Criteria& criteria) {
    const double sound = solid_modulus(original);
    SectionStrengths s;
    const WeakestDirection weakest = section.weakest();
    s.area = share(section.area(), sound_area(original));
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
                            SectionStrengths& strengths,
                            SectionTrace* trace) {
    const bool several = shape.pockets.size() + (shape.shell.empty() ? 0 : 1) > 1;
    const bool any_open = std::any_of(s.pockets.begin(), s.pockets.end(), [&](const auto& p) {
        return is_open(p, line, criteria);
    });
    if (!several || !any_open || !transverse_governs(line, criteria)) {
        return;  // alone, its worst place is the same for every direction
    }
    const SectionShape weaker = place_defects(s, line, criteria, Sought::weakest);
    const RemainingSection section{weaker};
    const WeakestDirection weakest = section.weakest();
    const double sound = solid_modulus(*s.original);
    const double least = share(weakest.modulus, sound);
    if (least < strengths.weakest) {
        strengths.weakest = least;
        strengths.weakest_axis = weakest.axis;
        if (trace != nullptr) {
            trace->weaker_placed = work_shape(section, weaker, line, sound);
        }
    }
}

/// Shape and strengths of a section that has girths, be they bounds. @return what a limit is asked of.
LimitFigures work_out(const SurveyedSection& s,
                      const LineDirection& line,
                      const Criteria& criteria,
                      SectionCondition& c,
                      SectionTrace* trace) {
    c.shape = place_defects(s, line, criteria);
    const RemainingSection section{c.shape};
    c.strengths = strengths_of(section, *s.original, line, criteria);
    if (trace != nullptr) {
        trace->sound_modulus = solid_modulus(*s.original);
        trace->sound_area = sound_area(*s.original);
        trace->worked = work_shape(section, c.shape, line, trace->sound_modulus);
    }
    look_for_weaker_places(s, line, criteria, c.shape, *c.strengths, trace);
    c.pieces = section.pieces();
    return {c.strengths->governing, c.strengths->weakest, section.lost_share(), {}};
}

}  // namespace

SectionCondition judge_section(const SurveyedSection& s,
                               std::span<const Defect> defects,
                               const LineDirection& line,
                               const Criteria& criteria,
                               SectionNotes notes) {
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
    if (notes.findings != nullptr) {
        note_position_conflicts(s, defects, line, criteria, *notes.findings);
    }
    LimitFigures figures;
    if (s.present && *s.original > Length{}) {
        figures = work_out(s, line, criteria, c, notes.trace);
    }
    if (!s.present && c.internal_rot && !s.pockets.empty()) {
        // Without a girth the shell behind a pocket can still fail: no real pole is stouter than this.
        SurveyedSection stout = s;
        stout.present = criteria.girth_high;
        c.shape = place_defects(stout, line, criteria);
    }
    c.shell_min = check_shell(s, c.shape, line, criteria, notes.shells);
    figures.shell_min = c.shell_min;
    c.limits = check_limits(s, figures, criteria);
    c.reasons = failed_limits(c.limits);
    c.split = c.reasons.has(Reason::section_split);
    if (notes.trace != nullptr) {
        notes.trace->survey = s;
    }

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
