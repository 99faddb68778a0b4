// The rules of the verdict one by one: what they answer together is the verdict of the contract.

#include <algorithm>
#include <array>
#include <set>

#include <gtest/gtest.h>

#include "assess/verdict/verdict.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Section 5 of the contract in its own order, written out once more.
Verdict by_contract(const VerdictFacts& f) {
    if (f.not_wood || f.not_inspected) {
        return Verdict::unassessed;
    }
    const bool zone = (f.zone_fails && !f.reinforced) || f.below_excavation;
    const bool fit = !f.decay_above && !f.reinforced;
    const bool unsafe = f.unsafe && (!f.zone_fails || f.reinforced);
    if (f.above_fails || f.extensive || (zone && !fit) || unsafe) {
        return Verdict::replace;
    }
    if (zone) {
        return Verdict::stub;
    }
    if (f.incomplete) {
        return Verdict::unassessed;
    }
    return f.decay ? Verdict::treat : Verdict::serviceable;
}

constexpr std::array kFlags{&VerdictFacts::not_wood,
                            &VerdictFacts::not_inspected,
                            &VerdictFacts::zone_fails,
                            &VerdictFacts::above_fails,
                            &VerdictFacts::decay,
                            &VerdictFacts::decay_above,
                            &VerdictFacts::incomplete,
                            &VerdictFacts::reinforced,
                            &VerdictFacts::extensive,
                            &VerdictFacts::unsafe,
                            &VerdictFacts::below_excavation};

TEST(VerdictRules, SayWhatTheContractSaysOfEveryCase) {
    for (unsigned bits = 0; bits < (1U << kFlags.size()); ++bits) {
        VerdictFacts facts;
        for (std::size_t i = 0; i < kFlags.size(); ++i) {
            facts.*kFlags[i] = (bits >> i & 1U) != 0U;
        }
        const auto rules = ask_rules(facts);
        ASSERT_EQ(rules.size(), kVerdictRules);
        const auto first = std::find_if(rules.begin(), rules.end(), [](const AskedRule& r) {
            return r.answer == RuleAnswer::applies;
        });
        ASSERT_NE(first, rules.end());
        ASSERT_EQ(first->verdict, by_contract(facts)) << bits;
        // What applies says the same; what comes after that step is not reached.
        for (auto r = rules.begin(); r != rules.end(); ++r) {
            ASSERT_TRUE(r->answer != RuleAnswer::applies || r->verdict == first->verdict);
            ASSERT_TRUE(r >= first || r->answer == RuleAnswer::does_not_apply);
        }
    }
}

TEST(VerdictRules, StandInTheOrderOfTheirCodes) {
    const auto rules = ask_rules({});
    std::set<std::string_view> names;
    for (std::size_t i = 0; i < rules.size(); ++i) {
        EXPECT_EQ(rules[i].rule, static_cast<VerdictRule>(i));
        names.insert(name_of(rules[i].rule));
    }
    EXPECT_EQ(names.size(), kVerdictRules);
    EXPECT_EQ(rules.back().answer, RuleAnswer::applies);
}

/// A pole assessed with its trace.
struct Traced {
    PoleAssessment a;
    PoleTrace trace;
    explicit Traced(const PoleCase& c) {
        Findings findings;
        const PoleFile file{c.pole, c.line, c.visits, c.defects};
        a = assess_pole(file, WoodTables::built_in(), c.criteria, findings, &trace);
        Findings again;
        const PoleAssessment untraced =
            assess_pole(file, WoodTables::built_in(), c.criteria, again);
        EXPECT_EQ(a.verdict, untraced.verdict);
        EXPECT_EQ(a.reasons, untraced.reasons);
        EXPECT_EQ(findings.size(), again.size());
    }
    Verdict by_rules() const {
        const auto rules = ask_rules(trace.facts);
        return std::find_if(rules.begin(),
                            rules.end(),
                            [](const AskedRule& r) { return r.answer == RuleAnswer::applies; })
            ->verdict;
    }
};

TEST(PoleTrace, HoldsTheValuesOfTheAssessment) {
    PoleCase c;
    c.recorded(40.0);
    c.visits.front().present_circumference = Length::inches(36.0);
    const Traced t{c};
    ASSERT_EQ(t.trace.sections.size(), 1U);
    const SectionTrace& s = t.trace.sections.front();
    ASSERT_TRUE(s.worked.has_value());
    EXPECT_EQ(s.survey.original_basis, OriginalBasis::groundline);
    EXPECT_EQ(s.survey.present_basis, PresentBasis::measured);
    EXPECT_EQ(s.worked->transverse->share, t.a.sections.front().strengths->governing);
    EXPECT_NEAR(s.worked->weakest.share, 0.9 * 0.9 * 0.9, 1e-12);
    EXPECT_TRUE(s.worked->all_directions_agree);
    EXPECT_EQ(t.trace.original_found.source, OriginalSource::recorded);
    EXPECT_EQ(t.by_rules(), t.a.verdict);
}

TEST(PoleTrace, SaysWhatRaisedAGirth) {
    PoleCase c;
    c.recorded(34.0);
    c.visits.front().present_circumference = Length::inches(36.0);
    const Traced t{c};
    EXPECT_EQ(t.trace.sections.front().survey.original_basis, OriginalBasis::present_stands);
    EXPECT_EQ(*t.trace.original_found.groundline, Length::inches(34.0));
    EXPECT_EQ(*t.trace.original.groundline, Length::inches(36.0));
}

TEST(PoleTrace, OfAPoleThatIsNotAssessed) {
    PoleCase steel;
    steel.pole.is_wood = false;
    EXPECT_TRUE(Traced{steel}.trace.facts.not_wood);
    EXPECT_EQ(Traced{steel}.by_rules(), Verdict::unassessed);
    PoleCase unseen;
    unseen.visits.clear();
    EXPECT_TRUE(Traced{unseen}.trace.facts.not_inspected);
    EXPECT_FALSE(Traced{unseen}.trace.visit.has_value());
}

}  // namespace
}  // namespace linewood::test
