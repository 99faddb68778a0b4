// What the default criteria ask of every section, each limit on both of its sides.

#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kExact = 1e-9;
constexpr double kMet = 1.0 - 0.5e-9;     // within the tolerance of a limit
constexpr double kMissed = 1.0 - 2.0e-9;  // just beyond it

std::string failed_limits(const PoleCase& c) { return c.assess().groundline().reasons.to_string(); }

/// A sound girth with an even shell all round that keeps this share.
PoleCase hollow(double share, double girth_in) {
    return PoleCase{}.original(girth_in).present(girth_in).with(
        rot(shell_keeping(share, girth_in)).toward(0));
}

TEST(limits, a_smaller_round_section_keeps_the_cube_of_its_girth) {
    const Assessed a = PoleCase{}.original(40).present(36).assess();
    const SectionStrengths& s = *a.groundline().strengths;
    EXPECT_NEAR(s.governing, cubed(0.9), kExact);
    EXPECT_NEAR(s.weakest, cubed(0.9), kExact);
    EXPECT_NEAR(*s.transverse, cubed(0.9), kExact);
    EXPECT_NEAR(*s.longitudinal, cubed(0.9), kExact);
    EXPECT_NEAR(s.area, 0.81, kExact);
    EXPECT_FALSE(s.weakest_axis.has_value()) << "all directions agree";
}

TEST(limits, an_even_shell_keeps_what_the_closed_form_says) {
    const Assessed a = PoleCase{}.original(50).present(45).with(rot(3).toward(0)).assess();
    const SectionStrengths& s = *a.groundline().strengths;
    EXPECT_NEAR(s.governing, cubed(0.9) * hollow_share(3, 45), kExact);
    const double inner = 1.0 - 6.0 * std::numbers::pi / 45.0;
    EXPECT_NEAR(s.area, 0.81 * (1.0 - inner * inner), kExact);
}

TEST(limits, strength_is_reported_as_at_most_all_of_it) {
    // Cutting off the extreme fibre of a load makes a section a little stronger against it.
    const SectionShape shape = shape_in(40, {{90, 1.27, 0.032}, {270, 1.27, 0.032}});
    ASSERT_GT(share_from(90, shape, 40), 1.0 + 1e-4);
    const Assessed a = PoleCase{}
                           .original(40)
                           .present(40)
                           .with(pocket(1.27, 0.032).toward(90))
                           .with(pocket(1.27, 0.032).toward(270))
                           .assess();
    EXPECT_EQ(*a.groundline().strengths->transverse, 1.0);
    EXPECT_EQ(a.groundline().strengths->governing, 1.0);
    EXPECT_LT(*a.groundline().strengths->longitudinal, 1.0);
}

TEST(limits, governing_strength_is_at_least_65_percent) {
    EXPECT_NEAR(hollow(0.65, 70).assess().governing(), 0.65, kExact * 0.1);
    EXPECT_EQ(failed_limits(hollow(0.65, 70)), "");
    EXPECT_EQ(failed_limits(hollow(0.65 * kMet, 70)), "");
    EXPECT_EQ(failed_limits(hollow(0.65 * kMissed, 70)), "strength_below_limit");
}

TEST(limits, weakest_direction_is_at_least_50_percent) {
    const auto with_low_governing = [](double share) {
        PoleCase c = hollow(share, 100);
        c.criteria.governing_strength_min = 0.1;
        return failed_limits(c);
    };
    EXPECT_EQ(with_low_governing(0.5), "");
    EXPECT_EQ(with_low_governing(0.5 * kMet), "");
    EXPECT_EQ(with_low_governing(0.5 * kMissed), "weakest_below_limit");
}

TEST(limits, the_weakest_direction_counts_where_another_governs) {
    // The line runs north: pockets north and south hardly weaken it across the line.
    const SectionShape shape = shape_in(40, {{0, 5, 3.2}, {180, 5, 3.2}});
    ASSERT_GT(share_from(90, shape, 40), 0.70);
    ASSERT_LT(weakest_share(shape, 40), 0.49);
    const Assessed a = PoleCase{}
                           .original(40)
                           .present(40)
                           .with(pocket(5, 3.2).toward(0))
                           .with(pocket(5, 3.2).toward(180))
                           .assess();
    const SectionStrengths& s = *a.groundline().strengths;
    EXPECT_NEAR(s.governing, share_from(90, shape, 40), kExact);
    EXPECT_NEAR(*s.transverse, share_from(90, shape, 40), kExact);
    EXPECT_NEAR(*s.longitudinal, share_from(0, shape, 40), kExact);
    EXPECT_NEAR(s.weakest, weakest_share(shape, 40), kExact);
    ASSERT_TRUE(s.weakest_axis.has_value());
    EXPECT_EQ(a.groundline().reasons.to_string(), "weakest_below_limit");
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
}

TEST(limits, girth_is_at_least_the_cube_root_of_65_percent) {
    const auto girth_only = [](double ratio) {
        PoleCase c = PoleCase{}.original(40).present(40 * ratio);
        c.criteria.governing_strength_min = 0.1;
        c.criteria.weakest_strength_min = 0.1;
        return failed_limits(c);
    };
    const double limit = std::cbrt(0.65);
    EXPECT_EQ(girth_only(limit), "");
    EXPECT_EQ(girth_only(limit * kMet), "");
    EXPECT_EQ(girth_only(limit * kMissed), "circumference_below_limit");
}

TEST(limits, a_girth_exactly_at_its_limit_passes_every_limit) {
    const double limit = std::cbrt(0.65);
    EXPECT_EQ(failed_limits(PoleCase{}.original(40).present(40 * limit)), "");
    EXPECT_EQ(failed_limits(PoleCase{}.original(40).present(40 * limit * kMissed)),
              "circumference_below_limit;strength_below_limit");
}

TEST(limits, shell_is_at_least_2_inches_at_a_bore) {
    const auto bored = [](double shell) {
        return failed_limits(PoleCase{}.original(45).present(45).with(rot(shell).toward(0)));
    };
    EXPECT_EQ(bored(2.0), "");
    EXPECT_EQ(bored(2.0 * kMet), "");
    EXPECT_EQ(bored(2.0 * kMissed), "shell_below_limit");
}

TEST(limits, every_bore_is_asked) {
    const Assessed a = PoleCase{}
                           .original(45)
                           .present(45)
                           .with(rot(5).toward(0))
                           .with(rot(1.9).toward(120))
                           .with(rot(4).toward(240))
                           .assess();
    EXPECT_EQ(a.groundline().reasons.to_string(), "shell_below_limit");
    EXPECT_NEAR(a.groundline().shell_min->inches(), 1.9, 1e-12);
}

TEST(limits, shell_is_at_least_2_inches_behind_a_pocket_of_a_section_with_rot) {
    const auto behind = [](double depth) {
        return failed_limits(PoleCase{}
                                 .original(45)
                                 .present(45)
                                 .with(rot(4).toward(0))
                                 .with(pocket(1.5, depth).toward(90)));
    };
    EXPECT_EQ(behind(2.0), "");
    EXPECT_EQ(behind(2.0 + 1e-9), "");
    EXPECT_EQ(behind(2.0 + 4e-9), "shell_below_limit");
}

TEST(limits, a_pocket_over_1_inch_wide_is_asked_for_its_shell) {
    const auto wide = [](double width) {
        return failed_limits(PoleCase{}
                                 .original(60)
                                 .present(60)
                                 .with(rot(4).toward(0))
                                 .with(pocket(width, 2.5).toward(90)));
    };
    EXPECT_EQ(wide(1.0), "");
    EXPECT_EQ(wide(1.0 + 1e-6), "shell_below_limit");
}

TEST(limits, a_pocket_without_internal_rot_is_not_asked_for_a_shell) {
    const Assessed a = PoleCase{}
                           .original(45)
                           .present(45)
                           .with(pocket(1.5, 3).toward(90))
                           .with(sound_bore().toward(0))
                           .assess();
    EXPECT_EQ(a.groundline().reasons.to_string(), "");
    EXPECT_FALSE(a.shell_min.has_value()) << "null where no internal rot was found";
}

TEST(limits, the_shell_behind_a_pocket_runs_linearly_between_bores) {
    // 3 in to the north, 6 in to the east: at 30 degrees a third of the way.
    const Assessed a = PoleCase{}
                           .original(60)
                           .present(60)
                           .with(rot(3).toward(0))
                           .with(rot(6).toward(90))
                           .with(pocket(1.2, 1).toward(30))
                           .assess();
    ASSERT_EQ(a.shells.size(), 3U);
    EXPECT_EQ(a.shells[2].defect, 2U);
    EXPECT_NEAR(a.shells[2].shell.inches(), 3.0 + 3.0 / 3.0 - 1.0, 1e-9);
}

TEST(limits, the_shell_behind_a_pocket_may_be_negative) {
    const Assessed a = PoleCase{}
                           .original(60)
                           .present(60)
                           .with(rot(2.5).toward(0))
                           .with(pocket(1.2, 4).toward(90))
                           .assess();
    EXPECT_NEAR(a.shell_min->inches(), -1.5, 1e-9);
    EXPECT_TRUE(a.reasons.has(Reason::shell_below_limit));
}

TEST(limits, every_limit_that_failed_is_named) {
    const Assessed a = PoleCase{}.original(40).present(28).with(rot(1).toward(0)).assess();
    EXPECT_EQ(a.groundline().reasons.to_string(),
              "circumference_below_limit;shell_below_limit;strength_below_limit;"
              "weakest_below_limit");
}

}  // namespace
}  // namespace linewood::test
