#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "assess/condition/rounding.hpp"
#include "src/report/worksheet_parts.hpp"

namespace linewood {
namespace {

std::string yes_no(bool b) { return b ? "yes" : "no"; }

std::string answer_words(Answer a) {
    return a == Answer::yes ? "yes" : a == Answer::no ? "no" : "not recorded";
}

std::string damage_words(AbovegroundDamage d) {
    constexpr std::array<const char*, 4> kWords{"not recorded", "none", "minor", "extensive"};
    return kWords[static_cast<std::size_t>(d)];
}

std::string_view outcome_words(SectionOutcome o) {
    return o == SectionOutcome::passes  ? "passes"
           : o == SectionOutcome::fails ? "fails"
                                        : "incomplete";
}

/// What the rules are in words, and the values each looks at.
class Rules {
public:
    explicit Rules(const WorksheetInput& in)
        : in_{in}, f_{in.run.job.units}, facts_{in.trace.facts} {}

    SheetTable table() const {
        SheetTable table{"rules",
                         "The rules in order; the first that applies decides",
                         {{"rule", "Rule"},
                          {"when", "Applies when"},
                          {"looked_at", "Looked at"},
                          {"answer", "Answer"},
                          {"verdict", "Verdict"}},
                         {}};
        for (const AskedRule& r : ask_rules(facts_)) {
            table.rows.push_back({SheetCell::words(std::string{name_of(r.rule)}),
                                  SheetCell::words(when(r.rule)),
                                  SheetCell::words(looked_at(r.rule)),
                                  answer_cell(r.answer),
                                  SheetCell::words(std::string{name_of(r.verdict)})});
        }
        return table;
    }

private:
    static SheetCell answer_cell(RuleAnswer a) {
        switch (a) {
            case RuleAnswer::applies:
                return SheetCell::figure("applies", Cell{std::string{"applies"}}, CellMark::bad);
            case RuleAnswer::does_not_apply:
                return SheetCell::figure("does not apply", Cell{std::string{"does_not_apply"}});
            case RuleAnswer::not_reached:
                return SheetCell::figure(
                    "not reached", Cell{std::string{"not_reached"}}, CellMark::open);
        }
        return {};
    }

    std::string when(VerdictRule rule) const {
        const std::string zone =
            "the groundline zone (up to " + f_.girth(in_.run.job.criteria.zone_top) + ")";
        switch (rule) {
            case VerdictRule::not_wood:
                return "the pole is not of wood";
            case VerdictRule::not_inspected:
                return "no inspection is recorded";
            case VerdictRule::fails_above:
                return "a section above " + zone + " fails a limit";
            case VerdictRule::extensive_damage:
                return "damage above ground is extensive";
            case VerdictRule::zone_unfit_for_stub:
                return "a section in " + zone +
                       " fails and the pole is not reinforced, or decay goes on below the "
                       "excavation; and decay is recorded above the zone or the pole is reinforced";
            case VerdictRule::unsafe_to_climb:
                return "it is unsafe to climb, and nothing in the zone fails or the pole is "
                       "reinforced";
            case VerdictRule::zone_fit_for_stub:
                return "a section in " + zone +
                       " fails, or decay goes on below the excavation; and nothing bars a stub";
            case VerdictRule::something_missing:
                return "something that a pass needs is missing";
            case VerdictRule::decay:
                return "decay is recorded, or a girth is under its share of the original";
            case VerdictRule::the_rest:
                return "nothing before applies";
        }
        return "";
    }

    std::string sections_words(bool in_zone) const {
        std::string words;
        for (const SectionCondition& s : in_.assessment.sections) {
            if (is_above(s.height, in_.run.job.criteria.zone_top) == in_zone) {
                continue;
            }
            words += words.empty() ? "" : ", ";
            words += f_.height(s.height) + " ";
            words += outcome_words(s.outcome);
        }
        return words.empty() ? "no section there" : "section at " + words;
    }

    std::string zone_words() const {
        return fmt::format(
            "{}; decay_below_excavation: {}; decay recorded above the zone: {}; reinforced: {}",
            sections_words(true),
            visit_words(&Inspection::decay_below_excavation),
            yes_no(facts_.decay_above),
            yes_no(in_.file.pole.reinforced));
    }

    std::string visit_words(Answer Inspection::*field) const {
        return in_.trace.visit ? answer_words(in_.trace.visit->inspection.*field)
                               : std::string{"no inspection"};
    }

    std::string looked_at(VerdictRule rule) const {
        switch (rule) {
            case VerdictRule::not_wood:
                return in_.file.pole.is_wood ? "wood" : "a material that is not wood";
            case VerdictRule::not_inspected:
                return fmt::format("inspections: {}", in_.trace.visits.size());
            case VerdictRule::fails_above:
                return sections_words(false);
            case VerdictRule::extensive_damage:
                return "aboveground_damage: " +
                       (in_.trace.visit ? damage_words(in_.trace.visit->inspection.damage)
                                        : std::string{"no inspection"});
            case VerdictRule::zone_unfit_for_stub:
            case VerdictRule::zone_fit_for_stub:
                return zone_words();
            case VerdictRule::unsafe_to_climb:
                return "climb_safe: " + visit_words(&Inspection::climb_safe) + "; " +
                       sections_words(true) + "; reinforced: " + yes_no(in_.file.pole.reinforced);
            case VerdictRule::something_missing:
                return missing_words();
            case VerdictRule::decay:
                return decay_words();
            case VerdictRule::the_rest:
                return "";
        }
        return "";
    }

    std::string missing_words() const {
        constexpr std::array kMissing{Reason::present_circumference_missing,
                                      Reason::original_circumference_missing,
                                      Reason::pocket_size_missing,
                                      Reason::shell_thickness_missing,
                                      Reason::geometry_impossible,
                                      Reason::value_unreadable};
        std::string words;
        for (const SectionCondition& s : in_.assessment.sections) {
            for (const Reason r : kMissing) {
                if (s.reasons.has(r)) {
                    words += words.empty() ? "" : ", ";
                    words += std::string{text_of(r).code} + " at " + f_.height(s.height);
                }
            }
        }
        const bool none = in_.assessment.sections.empty();
        return !words.empty() ? words : none ? "no section was assessed" : "nothing is missing";
    }

    std::string decay_words() const {
        std::string words;
        for (const SectionCondition& s : in_.assessment.sections) {
            if (s.decay) {
                words += (words.empty() ? "decay at " : ", ") + f_.height(s.height);
            }
        }
        return words.empty() ? "none" : words;
    }

    const WorksheetInput& in_;
    SheetFigures f_;
    const VerdictFacts& facts_;
};

std::string urgency_words(const WorksheetInput& in) {
    const VerdictFacts& f = in.trace.facts;
    const Verdict v = in.assessment.verdict;
    if (v == Verdict::unassessed) {
        return "Urgency: none, because the pole is unassessed.";
    }
    if (v == Verdict::treat || v == Verdict::serviceable) {
        return "Urgency: routine, as for every pole that stays in service.";
    }
    return fmt::format(
        "Urgency: {}. now asks for one of: governing strength under {} % of its limit ({}), unsafe "
        "to climb ({}), extensive damage ({}), a split section ({}); soon is every other replace "
        "or stub.",
        name_of(in.assessment.urgency),
        six_digits(100.0 * in.run.job.criteria.urgent_strength_share),
        yes_no(f.far_below_limit),
        yes_no(f.unsafe),
        yes_no(f.extensive),
        yes_no(f.split));
}

SheetTable reasons_table(ReasonSet reasons) {
    SheetTable table{"reasons",
                     "Reasons: every limit that failed and every rule that spoke",
                     {{"code", "Code"}, {"meaning", "Meaning"}},
                     {}};
    for (int i = 0; i < kReasonCount; ++i) {
        const auto r = static_cast<Reason>(i);
        if (reasons.has(r)) {
            table.rows.push_back({SheetCell::words(std::string{text_of(r).code}),
                                  SheetCell::words(std::string{text_of(r).meaning})});
        }
    }
    return table;
}

}  // namespace

SheetPart verdict_part(const WorksheetInput& in) {
    SheetPart part{"verdict", "Verdict, rule by rule", {}};
    if (in.duplicate) {
        part.items.emplace_back(
            SheetText{"Not asked: another pole earlier in the layer has this pole_id.", true});
    } else {
        part.items.emplace_back(Rules{in}.table());
        part.items.emplace_back(SheetText{urgency_words(in)});
    }
    if (in.assessment.reasons.empty()) {
        part.items.emplace_back(SheetText{"Reasons: none."});
    } else {
        part.items.emplace_back(reasons_table(in.assessment.reasons));
    }
    return part;
}

}  // namespace linewood
