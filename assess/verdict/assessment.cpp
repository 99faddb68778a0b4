#include "assess/verdict/assessment.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>
#include <tuple>
#include <utility>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/rounding.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/condition/visits.hpp"
#include "assess/wood/table_girth.hpp"

namespace linewood {
namespace {

/// One visit worked out.
struct VisitResult {
    std::int64_t fid = -1;  ///< of its inspection
    std::vector<SectionCondition> sections;
    OriginalGirth original;
    Decision decision;
    std::vector<DefectShell> shells;
    std::optional<std::size_t> worst_section;
    OriginalGirth original_found;
    std::vector<SectionTrace> traces;  ///< empty where nobody asked
    VerdictFacts facts;
};

std::optional<std::size_t> worst_of(const std::vector<SectionCondition>& sections,
                                    const Criteria& criteria) {
    std::optional<std::size_t> worst;
    double least = 0.0;
    for (std::size_t i = 0; i < sections.size(); ++i) {
        if (!sections[i].strengths) {
            continue;
        }
        const double strength = sections[i].strengths->governing;
        if (!worst || strength < least - criteria.limit_tolerance) {
            worst = i;
            least = strength;
        }
    }
    return worst;
}

double worst_strength(const VisitResult& r) {
    return r.worst_section ? r.sections[*r.worst_section].strengths->governing : 1.0;
}

/// Less is worse: the present girth of the lowest section that has one.
double present_metres(const VisitResult& r) {
    const auto known = std::find_if(
        r.sections.begin(), r.sections.end(), [](const auto& s) { return s.present.has_value(); });
    return known == r.sections.end() ? std::numeric_limits<double>::infinity()
                                     : known->present->metres();
}

/// At equality the one that was stouter once, then the one that is thinner now: strengths are capped at
/// one, and the order in which the rows stood must not matter. FIDs speak last, of visits alike.
bool is_worse(const VisitResult& a, const VisitResult& b) {
    const auto rank = [](const VisitResult& r) {
        const double original = r.original.groundline.value_or(Length{}).metres();
        return std::tuple{r.decision.verdict,
                          r.decision.urgency,
                          worst_strength(r),
                          -original,
                          present_metres(r),
                          r.decision.reasons.to_string(),
                          r.fid};
    };
    return rank(a) < rank(b);
}

void fill(VisitResult&& r, PoleAssessment& a) {
    a.verdict = r.decision.verdict;
    a.urgency = r.decision.urgency;
    a.reasons = r.decision.reasons;
    a.worst_section = r.worst_section;
    a.original = r.original.groundline;
    a.original_source = r.original.source;
    for (const SectionCondition& s : r.sections) {
        if (s.shell_min) {
            a.shell_min = std::min(*s.shell_min, a.shell_min.value_or(*s.shell_min));
        }
    }
    a.sections = std::move(r.sections);
    a.shells = std::move(r.shells);
}

bool is_same(const Finding& a, const Finding& b) {
    return a.code == b.code && a.layer == b.layer && a.feature == b.feature && a.field == b.field &&
           a.value == b.value;
}

/// The doubts of one pole. What several visits raise alike, as what is in the pole's own record, is
/// told once.
class PoleFindings {
public:
    explicit PoleFindings(Findings& all) : all_{all}, before_{all.size()} {}

    void add(Finding f) {
        const auto own = all_.begin() + static_cast<std::ptrdiff_t>(before_);
        if (std::none_of(own, all_.end(), [&](const Finding& g) { return is_same(f, g); })) {
            all_.push_back(std::move(f));
        }
    }
    void add(Findings&& more) {
        for (Finding& f : more) {
            add(std::move(f));
        }
    }

private:
    Findings& all_;
    std::size_t before_;
};

class Assessor {
public:
    Assessor(const PoleFile& file,
             const WoodTables& tables,
             const Criteria& criteria,
             PoleTrace* trace)
        : file_{file},
          criteria_{criteria},
          trace_{trace},
          lookup_{look_up(tables, file.pole)},
          ends_{pole_ends(tables, file.pole)} {}

    PoleAssessment assess(Findings& all_findings) {
        PoleAssessment a;
        PoleFindings findings{all_findings};
        if (trace_ != nullptr) {
            trace_->lookup = lookup_;
            trace_->ends = ends_;
            trace_->facts.not_wood = !file_.pole.is_wood;
        }
        if (!file_.pole.is_wood) {
            a.reasons.add(Reason::not_wood);
            return a;
        }
        const auto visits =
            join_visits(file_.inspections, file_.defects, criteria_.join_days, &all_findings);
        if (visits.empty()) {
            const OriginalGirth original =
                find_original_girth(file_.pole, nullptr, lookup_, &all_findings);
            a.original = original.groundline;
            a.original_source = original.source;
            a.reasons.add(Reason::not_inspected);
            if (trace_ != nullptr) {
                trace_->original_found = original;
                trace_->original = original;
                trace_->facts.not_inspected = true;
            }
            return a;
        }
        const auto first_latest =
            visits.begin() + static_cast<std::ptrdiff_t>(first_of_latest(visits));
        const Visit* chosen_visit = &*first_latest;
        VisitResult chosen = work_out(*first_latest, findings);
        for (auto visit = first_latest + 1; visit != visits.end(); ++visit) {
            VisitResult other = work_out(*visit, findings);
            if (is_worse(other, chosen)) {
                chosen = std::move(other);
                chosen_visit = &*visit;
            }
        }
        for (auto visit = visits.begin(); visit != first_latest; ++visit) {
            const VisitResult earlier = work_out(*visit, findings);
            compare_with_history(*visit, earlier, *chosen_visit, chosen, findings);
            chosen.shells.insert(chosen.shells.end(), earlier.shells.begin(), earlier.shells.end());
        }
        if (trace_ != nullptr) {
            trace_->visits = visits;
            trace_->visit = *chosen_visit;
            trace_->original_found = chosen.original_found;
            trace_->original = chosen.original;
            trace_->sections = std::move(chosen.traces);
            trace_->facts = chosen.facts;
        }
        fill(std::move(chosen), a);
        a.inspected_on = chosen_visit->inspection.inspected_on;
        return a;
    }

private:
    /// What one visit comes to; its doubts go to `findings`.
    VisitResult work_out(const Visit& visit, PoleFindings& findings) const {
        VisitResult r;
        r.fid = visit.inspection.fid;
        Findings doubts;
        r.original = find_original_girth(file_.pole, &visit.inspection, lookup_, &doubts);
        r.original_found = r.original;
        const SurveyInput in{file_.pole, visit, file_.defects, ends_, criteria_};
        const auto surveyed = survey_sections(in, r.original, &doubts);
        r.sections.reserve(surveyed.size());
        for (const SurveyedSection& s : surveyed) {
            SectionTrace* trace = trace_ == nullptr ? nullptr : &r.traces.emplace_back();
            r.sections.push_back(
                judge_section(s, file_.defects, file_.line, criteria_, {r.shells, &doubts, trace}));
        }
        findings.add(std::move(doubts));
        r.worst_section = worst_of(r.sections, criteria_);
        const bool from_tables = r.original.source == OriginalSource::tables;
        r.decision = decide(
            {file_.pole, visit, file_.defects, r.sections, from_tables}, criteria_, &r.facts);
        return r;
    }

    bool fails_in(const VisitResult& r, bool zone) const {
        return std::any_of(r.sections.begin(), r.sections.end(), [&](const SectionCondition& s) {
            const bool in_zone = !is_above(s.height, criteria_.zone_top);
            return in_zone == zone && s.outcome == SectionOutcome::fails;
        });
    }

    /// Decay does not heal: what failed before and does not now was seen wrongly once.
    void compare_with_history(const Visit& earlier_visit,
                              const VisitResult& earlier,
                              const Visit& latest_visit,
                              const VisitResult& latest,
                              PoleFindings& findings) const {
        const auto report = [&](std::string_view field, std::string_view value) {
            findings.add(make_finding(finding::kRecovered,
                                      InputLayer::inspections,
                                      earlier_visit.inspection.fid,
                                      field,
                                      std::string{value}));
        };
        if (earlier_visit.inspection.damage == AbovegroundDamage::extensive &&
            latest_visit.inspection.damage != AbovegroundDamage::extensive) {
            report("aboveground_damage", "extensive");
        }
        for (const bool zone : {true, false}) {
            if (fails_in(earlier, zone) && !fails_in(latest, zone)) {
                report("",
                       zone ? "section in the groundline zone failed"
                            : "section above the groundline zone failed");
            }
        }
    }

    const PoleFile& file_;
    const Criteria& criteria_;
    PoleTrace* trace_;
    TableLookup lookup_;
    PoleEnds ends_;
};

}  // namespace

PoleAssessment assess_pole(const PoleFile& file,
                           const WoodTables& tables,
                           const Criteria& criteria,
                           Findings& findings,
                           PoleTrace* trace) {
    return Assessor{file, tables, criteria, trace}.assess(findings);
}

}  // namespace linewood
