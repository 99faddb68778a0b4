// Limits of a section one by one, and what a bound may and may not say.

#include "assess/condition/section_limits.hpp"

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

const CheckedLimit& check(const Assessed& a, SectionLimit limit) {
    return a.groundline().limits[static_cast<std::size_t>(limit)];
}

Assessed assessed(const PoleCase& c) {
    Assessed a;
    static_cast<PoleAssessment&>(a) = assess_pole(
        {c.pole, c.line, c.visits, c.defects}, WoodTables::built_in(), c.criteria, a.findings);
    return a;
}

PoleCase girths(std::optional<double> original, std::optional<double> present) {
    PoleCase c;
    if (original) {
        c.recorded(*original);
    }
    if (present) {
        c.visits.front().present_circumference = Length::inches(*present);
    }
    return c;
}

Defect rot(std::optional<double> shell) {
    Defect d;
    d.kind = DefectKind::internal_rot;
    d.azimuth = Bearing::degrees(10.0);
    if (shell) {
        d.shell_thickness = Length::inches(*shell);
    }
    return d;
}

Defect pocket(std::optional<double> width, double depth) {
    Defect d;
    d.azimuth = Bearing::degrees(90.0);
    if (width) {
        d.width = Length::inches(*width);
    }
    d.depth = Length::inches(depth);
    return d;
}

TEST(SectionLimits, NoShellAtAllMeetsNotEvenALimitOfZero) {
    PoleCase c = girths(40.0, 40.0);
    c.criteria.shell_min = Length{};
    const auto shell_of = [&](std::vector<Defect> defects) {
        c.defects = std::move(defects);
        return check(assessed(c), SectionLimit::shell).outcome;
    };
    EXPECT_EQ(shell_of({rot(0.0)}), LimitOutcome::fails);
    EXPECT_EQ(shell_of({rot(0.001)}), LimitOutcome::meets);
    // Behind a pocket as deep as the shell there is none; just behind a shallower one there is.
    EXPECT_EQ(shell_of({rot(3.0), pocket(2.0, 3.0)}), LimitOutcome::fails);
    EXPECT_EQ(shell_of({rot(3.0), pocket(2.0, 2.999)}), LimitOutcome::meets);
}

TEST(SectionLimits, AreMetOrNot) {
    const Assessed sound = assessed(girths(40.0, 38.0));
    EXPECT_EQ(check(sound, SectionLimit::governing_strength).outcome, LimitOutcome::meets);
    EXPECT_EQ(check(sound, SectionLimit::weakest_strength).outcome, LimitOutcome::meets);
    EXPECT_EQ(check(sound, SectionLimit::girth_ratio).outcome, LimitOutcome::meets);
    EXPECT_DOUBLE_EQ(*check(sound, SectionLimit::girth_ratio).value, 0.95);
    EXPECT_EQ(check(sound, SectionLimit::shell).outcome, LimitOutcome::not_asked);
    EXPECT_EQ(check(sound, SectionLimit::lost_pieces).outcome, LimitOutcome::meets);

    const Assessed slim = assessed(girths(40.0, 30.0));
    EXPECT_EQ(check(slim, SectionLimit::governing_strength).outcome, LimitOutcome::fails);
    EXPECT_EQ(check(slim, SectionLimit::girth_ratio).outcome, LimitOutcome::fails);
    EXPECT_FALSE(check(slim, SectionLimit::girth_ratio).on_bound);
}

TEST(SectionLimits, NothingPassesOnABound) {
    const Assessed unmeasured = assessed(girths(40.0, {}));
    for (const SectionLimit limit : {SectionLimit::governing_strength,
                                     SectionLimit::weakest_strength,
                                     SectionLimit::girth_ratio,
                                     SectionLimit::lost_pieces}) {
        EXPECT_EQ(check(unmeasured, limit).outcome, LimitOutcome::unknown) << name_of(limit);
        EXPECT_TRUE(check(unmeasured, limit).on_bound) << name_of(limit);
    }
}

TEST(SectionLimits, WhatFailsOnABoundFails) {
    PoleCase c = girths(40.0, {});
    c.defects = {pocket(11.0, 6.0)};
    const Assessed a = assessed(c);
    EXPECT_EQ(check(a, SectionLimit::governing_strength).outcome, LimitOutcome::fails);
    EXPECT_TRUE(check(a, SectionLimit::governing_strength).on_bound);
    EXPECT_EQ(check(a, SectionLimit::girth_ratio).outcome, LimitOutcome::unknown);
}

TEST(SectionLimits, AGirthIsAValueWhereOnlyAPocketIsUnmeasured) {
    PoleCase c = girths(40.0, 38.0);
    c.defects = {pocket({}, 3.0)};
    const Assessed a = assessed(c);
    EXPECT_EQ(check(a, SectionLimit::girth_ratio).outcome, LimitOutcome::meets);
    EXPECT_EQ(check(a, SectionLimit::governing_strength).outcome, LimitOutcome::unknown);
}

TEST(SectionLimits, AShellIsAskedOnlyWhereRotIs) {
    PoleCase thick = girths(40.0, 40.0);
    thick.defects = {rot(3.0)};
    EXPECT_EQ(check(assessed(thick), SectionLimit::shell).outcome, LimitOutcome::meets);
    PoleCase thin = girths(40.0, 40.0);
    thin.defects = {rot(1.0)};
    EXPECT_EQ(check(assessed(thin), SectionLimit::shell).outcome, LimitOutcome::fails);
    PoleCase unmeasured = girths(40.0, 40.0);
    unmeasured.defects = {rot({})};
    EXPECT_EQ(check(assessed(unmeasured), SectionLimit::shell).outcome, LimitOutcome::unknown);
    PoleCase half = girths(40.0, 40.0);
    half.defects = {rot(3.0), rot({})};
    EXPECT_EQ(check(assessed(half), SectionLimit::shell).outcome, LimitOutcome::unknown);
}

TEST(SectionLimits, OfNoWoodNoLimitIsMetWhateverTheCriteria) {
    SurveyedSection s;
    s.original = Length::inches(40.0);
    s.present = Length::inches(40.0);
    s.original_known = true;
    s.present_known = true;
    Criteria nothing_asked;
    nothing_asked.governing_strength_min = 0.0;
    nothing_asked.weakest_strength_min = 0.0;
    nothing_asked.girth_ratio_min = 0.0;
    nothing_asked.split_loss_max = 1.0;
    for (const double left : {0.0, 1e-12, -1e-12}) {
        const CheckedLimits none = check_limits(s, {left, left, 0.0, {}}, nothing_asked);
        EXPECT_EQ(none[0].outcome, LimitOutcome::fails);
        EXPECT_EQ(none[1].outcome, LimitOutcome::fails);
        EXPECT_TRUE(failed_limits(none).has(Reason::strength_below_limit));
    }
    const CheckedLimits some = check_limits(s, {0.001, 0.001, 0.0, {}}, nothing_asked);
    EXPECT_EQ(some[0].outcome, LimitOutcome::meets);
    EXPECT_EQ(some[1].outcome, LimitOutcome::meets);
}

TEST(SectionLimits, APoleRottedAwayFailsWhateverTheCriteria) {
    PoleCase c = girths(40.0, 40.0);
    c.criteria.governing_strength_min = 0.0;
    c.criteria.weakest_strength_min = 0.0;
    c.criteria.girth_ratio_min = 0.0;
    c.criteria.shell_min = Length{};
    c.criteria.split_loss_max = 1.0;
    c.defects = {rot(0.0)};
    c.defects.front().azimuth = Maybe<Bearing>{};
    const Assessed a = assessed(c);
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
    EXPECT_NE(a.verdict, Verdict::serviceable);
    EXPECT_NE(a.verdict, Verdict::treat);
}

TEST(SectionLimits, TheirReasonsAreThoseOfTheSection) {
    const Assessed slim = assessed(girths(40.0, 30.0));
    const ReasonSet reasons = failed_limits(slim.groundline().limits);
    EXPECT_EQ(reasons, slim.groundline().reasons);
    EXPECT_TRUE(reasons.has(Reason::circumference_below_limit));
}

}  // namespace
}  // namespace linewood::test
