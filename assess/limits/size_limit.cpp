#include "assess/limits/size_limit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "assess/verdict/assessment.hpp"

namespace linewood {
namespace {

const Length kStep = Length::inches(0.02);
const Length kBracket = Length::inches(1e-5);
/// Of the resolution: a size this near to a multiple is that multiple.
constexpr double kSameMultiple = 1e-6;

/// One section of one visit, as an inspector would have recorded it.
class Trial {
public:
    explicit Trial(const LimitCase& c) : case_{c} {
        visit_.original_circumference = c.original;
        visit_.present_circumference = c.original;
    }

    void set_girth(Length present) { visit_.present_circumference = present; }
    Defect& add(DefectKind kind) {
        defects_.emplace_back();
        defects_.back().kind = kind;
        return defects_.back();
    }
    Defect& defect(std::size_t i) { return defects_[i]; }

    /// The limits that it fails; empty where it passes.
    ReasonSet failures() const {
        Findings findings;
        const Pole pole;
        const PoleAssessment a = assess_pole(
            {pole, case_.line, {&visit_, 1}, defects_}, no_tables(), case_.criteria, findings);
        const SectionCondition& s = a.sections.front();
        return s.outcome == SectionOutcome::fails ? s.reasons : ReasonSet{};
    }

private:
    static const WoodTables& no_tables() {
        static const WoodTables tables;
        return tables;
    }

    const LimitCase& case_;
    Inspection visit_;
    std::vector<Defect> defects_;
};

/// The figure that people will use: the last multiple of the resolution before a failure that itself
/// passes; `from` where there is none.
template <typename Failures>
Length safe_multiple(Length from, Length fails, Length resolution, const Failures& failures) {
    const double way = fails < from ? -1.0 : 1.0;
    double multiple = std::floor(way * (fails / resolution) + kSameMultiple);
    Length size = resolution * (way * multiple);
    while (way * (size - from).metres() > 0.0 && !failures(size).empty()) {
        multiple -= 1.0;
        size = resolution * (way * multiple);
    }
    return way * (size - from).metres() > 0.0 ? size : from;
}

/// From `from` towards `to`, both included. @param failures of a size
template <typename Failures>
SizeLimit first_failure(Length from, Length to, Length resolution, const Failures& failures) {
    const double way = to < from ? -1.0 : 1.0;
    const double length = std::abs(to / kStep - from / kStep);
    const auto steps = static_cast<int>(std::ceil(length - kSameMultiple));
    ReasonSet why = failures(from);
    if (!why.empty()) {
        return {LimitKind::none, from, why};
    }
    Length passes = from;
    Length fails = from;
    for (int i = 1; i <= steps && why.empty(); ++i) {
        passes = fails;
        fails = i == steps ? to : from + kStep * (way * i);
        why = failures(fails);
    }
    if (why.empty()) {
        return {LimitKind::any, to, {}};
    }
    while (std::abs((fails - passes) / kBracket) > 1.0) {
        const Length middle = (passes + fails) / 2.0;
        const ReasonSet there = failures(middle);
        (there.empty() ? passes : fails) = middle;
        why = there.empty() ? why : there;
    }
    return {LimitKind::limit, safe_multiple(from, fails, resolution, failures), why};
}

Length diameter(const LimitCase& c) { return c.original / std::numbers::pi; }

Bearing place(const LimitCase& c, Angle off_axis) {
    return Bearing::degrees((c.line.axis ? c.line.axis->degrees() : 0.0) + off_axis.degrees());
}

}  // namespace

SizeLimit least_girth(const LimitCase& c) {
    Trial trial{c};
    return first_failure(
        c.original, std::min(c.original, c.criteria.girth_low), c.resolution, [&](Length girth) {
            trial.set_girth(girth);
            return trial.failures();
        });
}

SizeLimit least_shell(const LimitCase& c) {
    Trial trial{c};
    trial.add(DefectKind::internal_rot);
    return first_failure(diameter(c) / 2.0, Length{}, c.resolution, [&](Length shell) {
        trial.defect(0).shell_thickness = shell;
        return trial.failures();
    });
}

SizeLimit widest_pocket(const LimitCase& c, Length depth, Angle off_axis) {
    Trial trial{c};
    Defect& pocket = trial.add(DefectKind::external_pocket);
    pocket.depth = depth;
    pocket.azimuth = place(c, off_axis);
    return first_failure(Length{}, diameter(c), c.resolution, [&](Length width) {
        trial.defect(0).width = width;
        return trial.failures();
    });
}

SizeLimit widest_mouth(const LimitCase& c, Length shell, Angle off_axis) {
    Trial trial{c};
    trial.add(DefectKind::external_pocket).azimuth = place(c, off_axis);
    trial.defect(0).depth = shell;
    trial.add(DefectKind::internal_rot).shell_thickness = shell;
    return first_failure(Length{}, diameter(c), c.resolution, [&](Length width) {
        trial.defect(0).width = width;
        return trial.failures();
    });
}

}  // namespace linewood
