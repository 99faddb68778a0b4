#include "assess/verdict/assessment.hpp"

#include <algorithm>

#include "assess/condition/condition_findings.hpp"
#include "assess/condition/rounding.hpp"
#include "assess/condition/section_survey.hpp"
#include "assess/condition/visits.hpp"
#include "assess/wood/table_girth.hpp"

namespace linewood {
namespace {

/// One visit worked out.
struct VisitResult {
    std::vector<SectionCondition> sections;
    OriginalGirth original;
    Decision decision;
    std::vector<DefectShell> shells;
    std::optional<std::size_t> worst_section;
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

class Assessor {
public:
    Assessor(const PoleFile& file, const WoodTables& tables, const Criteria& criteria)
        : file_{file},
          criteria_{criteria},
          lookup_{look_up(tables, file.pole)},
          ends_{pole_ends(tables, file.pole)} {}

    PoleAssessment assess(Findings& findings) {
        PoleAssessment a;
        if (!file_.pole.is_wood) {
            a.reasons.add(Reason::not_wood);
            return a;
        }
        const auto visits =
            join_visits(file_.inspections, file_.defects, criteria_.join_days, &findings);
        if (visits.empty()) {
            const OriginalGirth original =
                find_original_girth(file_.pole, nullptr, lookup_, nullptr);
            a.original = original.groundline;
            a.original_source = original.source;
            a.reasons.add(Reason::not_inspected);
            return a;
        }
        const std::optional<Date> latest = visits.back().inspection.inspected_on;
        std::size_t first_latest = visits.size();
        while (first_latest > 0 && visits[first_latest - 1].inspection.inspected_on == latest) {
            --first_latest;
        }
        VisitResult chosen = work_out(visits.back(), &findings);
        const Visit* chosen_visit = &visits.back();
        for (std::size_t i = first_latest; i + 1 < visits.size(); ++i) {
            VisitResult other = work_out(visits[i], nullptr);
            if (is_worse(other, chosen)) {
                chosen = std::move(other);
                chosen_visit = &visits[i];
            }
        }
        for (std::size_t i = 0; i < first_latest; ++i) {
            VisitResult earlier = work_out(visits[i], &findings);
            compare_with_history(visits[i], earlier, *chosen_visit, chosen, findings);
            chosen.shells.insert(chosen.shells.end(), earlier.shells.begin(), earlier.shells.end());
        }
        fill(std::move(chosen), a);
        a.inspected_on = latest;
        return a;
    }

private:
    VisitResult work_out(const Visit& visit, Findings* findings) const {
        VisitResult r;
        r.original = find_original_girth(file_.pole, &visit.inspection, lookup_, findings);
        const SurveyInput in{file_.pole, visit, file_.defects, ends_, criteria_};
        const auto surveyed = survey_sections(in, r.original, findings);
        r.sections.reserve(surveyed.size());
        for (const SurveyedSection& s : surveyed) {
            r.sections.push_back(
                judge_section(s, file_.defects, file_.line, criteria_, r.shells, findings));
        }
        r.worst_section = worst_of(r.sections, criteria_);
        const bool from_tables = r.original.source == OriginalSource::tables;
        r.decision = decide({file_.pole, visit, file_.defects, r.sections, from_tables}, criteria_);
        return r;
    }

    double worst_strength(const VisitResult& r) const {
        return r.worst_section ? r.sections[*r.worst_section].strengths->governing : 1.0;
    }

    bool is_worse(const VisitResult& a, const VisitResult& b) const {
        if (a.decision.verdict != b.decision.verdict) {
            return a.decision.verdict < b.decision.verdict;
        }
        if (a.decision.urgency != b.decision.urgency) {
            return a.decision.urgency < b.decision.urgency;
        }
        return worst_strength(a) < worst_strength(b);
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
                              Findings& findings) const {
        const auto report = [&](std::string_view field, std::string_view value) {
            findings.push_back(make_finding(finding::kRecovered,
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

    void fill(VisitResult&& r, PoleAssessment& a) const {
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

    const PoleFile& file_;
    const Criteria& criteria_;
    TableLookup lookup_;
    PoleEnds ends_;
};

}  // namespace

PoleAssessment assess_pole(const PoleFile& file,
                           const WoodTables& tables,
                           const Criteria& criteria,
                           Findings& findings) {
    return Assessor{file, tables, criteria}.assess(findings);
}

}  // namespace linewood
