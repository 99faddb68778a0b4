#include "assess/verdict/verdict.hpp"

#include <algorithm>
#include <array>

#include "assess/condition/rounding.hpp"

namespace linewood {
namespace {

using Facts = VerdictFacts;

bool in_zone(Length height, const Criteria& criteria) {
    return !is_above(height, criteria.zone_top);
}

bool measured_nothing(const Visit& visit) {
    const Inspection& i = visit.inspection;
    return visit.defects.empty() && !i.present_circumference && !i.original_circumference &&
           i.method != InspectionMethod::bore && i.method != InspectionMethod::excavated;
}

void take_section(const SectionCondition& s, const Criteria& criteria, Facts& f) {
    const bool zone = in_zone(s.height, criteria);
    const bool fails = s.outcome == SectionOutcome::fails;
    f.zone_fails = f.zone_fails || (zone && fails);
    f.above_fails = f.above_fails || (!zone && fails);
    f.decay = f.decay || s.decay;
    f.decay_above = f.decay_above || (!zone && s.decay);
    f.rot_in_zone = f.rot_in_zone || (zone && s.internal_rot);
    f.incomplete = f.incomplete || !s.complete;
    // Of a reinforced pole too: its zone does not decide the verdict, but what is to be replaced hurries.
    f.split = f.split || s.split;
    f.far_below_limit =
        f.far_below_limit || (s.strengths && !criteria.meets(s.strengths->governing,
                                                             criteria.urgent_strength_share *
                                                                 criteria.governing_strength_min));
}

Facts gather(const DecisionInput& in, const Criteria& criteria) {
    const Inspection& visit = in.visit.inspection;
    Facts f;
    f.reinforced = in.pole.reinforced;
    f.extensive = visit.damage == AbovegroundDamage::extensive;
    f.unsafe = visit.climb_safe == Answer::no;
    f.below_excavation = visit.decay_below_excavation == Answer::yes;
    f.recorded_above = visit.damage != AbovegroundDamage::not_recorded;
    for (const SectionCondition& s : in.sections) {
        take_section(s, criteria, f);
    }
    for (const std::size_t i : in.visit.defects) {
        const Defect& d = in.defects[i];
        if (in_zone(d.height.value_or(Length{}), criteria)) {
            continue;
        }
        // Asked of the defect itself: its section may start within the zone.
        f.recorded_above = true;
        f.decay_above = f.decay_above || is_decay(d);
        f.bored_above =
            f.bored_above || d.kind == DefectKind::bore || d.kind == DefectKind::internal_rot;
    }
    return f;
}

/// One rule: at which step it is asked, what it says, and when.
struct RuleRow {
    VerdictRule rule;
    int step;
    Verdict verdict;
    std::string_view name;
    bool (*applies)(const Facts&);
};

constexpr std::array<RuleRow, kVerdictRules> kRules{{
    {VerdictRule::not_wood,
     0,
     Verdict::unassessed,
     "not_wood",
     [](const Facts& f) { return f.not_wood; }},
    {VerdictRule::not_inspected,
     0,
     Verdict::unassessed,
     "not_inspected",
     [](const Facts& f) { return f.not_inspected; }},
    {VerdictRule::fails_above,
     1,
     Verdict::replace,
     "fails_above",
     [](const Facts& f) { return f.above_fails; }},
    {VerdictRule::extensive_damage,
     1,
     Verdict::replace,
     "extensive_damage",
     [](const Facts& f) { return f.extensive; }},
    {VerdictRule::zone_unfit_for_stub,
     1,
     Verdict::replace,
     "zone_unfit_for_stub",
     [](const Facts& f) { return f.zone_calls() && !f.fit_for_stub(); }},
    // A stub would not mend it: nothing in the zone fails, or it has one.
    {VerdictRule::unsafe_to_climb,
     1,
     Verdict::replace,
     "unsafe_to_climb",
     [](const Facts& f) { return f.unsafe && (!f.zone_fails || f.reinforced); }},
    {VerdictRule::zone_fit_for_stub,
     2,
     Verdict::stub,
     "zone_fit_for_stub",
     [](const Facts& f) { return f.zone_calls(); }},
    {VerdictRule::something_missing,
     3,
     Verdict::unassessed,
     "something_missing",
     [](const Facts& f) { return f.incomplete; }},
    {VerdictRule::decay, 4, Verdict::treat, "decay", [](const Facts& f) { return f.decay; }},
    {VerdictRule::the_rest,
     5,
     Verdict::serviceable,
     "the_rest",
     [](const Facts& /*f*/) { return true; }},
}};

const RuleRow& first_that_applies(const Facts& f) {
    return *std::find_if(
        kRules.begin(), kRules.end(), [&](const RuleRow& r) { return r.applies(f); });
}

Urgency urgency_of(Verdict verdict, const Facts& f) {
    switch (verdict) {
        case Verdict::replace:
        case Verdict::stub:
            return f.far_below_limit || f.unsafe || f.extensive || f.split ? Urgency::now
                                                                           : Urgency::soon;
        case Verdict::treat:
        case Verdict::serviceable:
            return Urgency::routine;
        case Verdict::unassessed:
            return Urgency::none;
    }
    return Urgency::none;
}

void add_rules(const DecisionInput& in, const Facts& f, Decision& d) {
    const Inspection& visit = in.visit.inspection;
    d.reasons.add_if(f.extensive, Reason::extensive_damage);
    d.reasons.add_if(visit.damage == AbovegroundDamage::minor, Reason::minor_damage);
    d.reasons.add_if(f.unsafe, Reason::unsafe_to_climb);
    d.reasons.add_if(f.below_excavation, Reason::decay_below_excavation);
    d.reasons.add_if(f.decay, Reason::decay_present);
    d.reasons.add_if(f.decay_above, Reason::decay_above_groundline);
    d.reasons.add_if(f.reinforced, Reason::already_reinforced);
    d.reasons.add_if(in.original_from_tables, Reason::original_from_tables);
    d.reasons.add_if(measured_nothing(in.visit), Reason::nothing_measured);
    d.reasons.add_if(
        d.verdict == Verdict::stub && (!f.recorded_above || (f.rot_in_zone && !f.bored_above)),
        Reason::confirm_above_groundline);
    d.reasons.add_if(d.verdict == Verdict::treat && visit.treated == Answer::yes, Reason::treated);
}

}  // namespace

std::string_view name_of(Verdict v) {
    switch (v) {
        case Verdict::replace:
            return "replace";
        case Verdict::stub:
            return "stub";
        case Verdict::unassessed:
            return "unassessed";
        case Verdict::treat:
            return "treat";
        case Verdict::serviceable:
            return "serviceable";
    }
    return "";
}

std::string_view name_of(Urgency u) {
    switch (u) {
        case Urgency::none:
            return "";
        case Urgency::now:
            return "now";
        case Urgency::soon:
            return "soon";
        case Urgency::routine:
            return "routine";
    }
    return "";
}

std::string_view name_of(VerdictRule rule) { return kRules[static_cast<std::size_t>(rule)].name; }

std::vector<AskedRule> ask_rules(const VerdictFacts& facts) {
    const int deciding = first_that_applies(facts).step;
    std::vector<AskedRule> asked;
    asked.reserve(kVerdictRules);
    for (const RuleRow& r : kRules) {
        const RuleAnswer answer = r.step > deciding  ? RuleAnswer::not_reached
                                  : r.applies(facts) ? RuleAnswer::applies
                                                     : RuleAnswer::does_not_apply;
        asked.push_back({r.rule, r.verdict, answer});
    }
    return asked;
}

Decision decide(const DecisionInput& in, const Criteria& criteria, VerdictFacts* looked_at) {
    const Facts facts = gather(in, criteria);
    if (looked_at != nullptr) {
        *looked_at = facts;
    }
    Decision d;
    d.verdict = first_that_applies(facts).verdict;
    d.urgency = urgency_of(d.verdict, facts);
    for (const SectionCondition& s : in.sections) {
        d.reasons.add(s.reasons);
    }
    add_rules(in, facts, d);
    return d;
}

}  // namespace linewood
