// Internal rot: what a bore's figure is worth, and the void that bores make together.

#include <cmath>
#include <numbers>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kGirth = 60;
constexpr double kRadius = kGirth / (2.0 * std::numbers::pi);  // 9.549 in

PoleCase sound_girth() { return PoleCase{}.original(kGirth).present(kGirth); }

/// The effective shell of the first defect of a case, in inches.
double effective(const PoleCase& c) { return c.assess().shells.front().shell.inches(); }

TEST(bores, one_alone_is_taken_all_round) {
    for (const double azimuth : {0.0, 77.0, 200.0}) {
        const Assessed a = sound_girth().with(rot(3).toward(azimuth)).assess();
        EXPECT_NEAR(a.governing(), hollow_share(3, kGirth), 1e-9);
        EXPECT_FALSE(a.groundline().strengths->weakest_axis.has_value());
    }
}

TEST(bores, between_them_the_shell_runs_linearly_around_the_circle) {
    const Assessed a = sound_girth()
                           .with(rot(3).toward(350))
                           .with(rot(6).toward(80))
                           .with(rot(5).toward(200))
                           .assess();
    const SectionShape shape = shape_in(kGirth, {}, {{350, 3}, {80, 6}, {200, 5}});
    EXPECT_NEAR(a.governing(), share_from(90, shape, kGirth), 1e-9);
    EXPECT_NEAR(a.weakest(), weakest_share(shape, kGirth), 1e-9);
}

TEST(bores, a_sound_one_has_the_radius_for_a_shell) {
    const Assessed a = sound_girth().with(rot(3).toward(0)).with(sound_bore().toward(180)).assess();
    const SectionShape shape = shape_in(kGirth, {}, {{0, 3}, {180, kRadius}});
    EXPECT_NEAR(a.governing(), share_from(90, shape, kGirth), 1e-9);
}

TEST(bores, a_sound_one_has_no_shell_figure) {
    const Assessed a = sound_girth().with(sound_bore().toward(180)).with(rot(3).toward(0)).assess();
    ASSERT_EQ(a.shells.size(), 1U);
    EXPECT_EQ(a.shells.front().defect, 1U);
    EXPECT_NEAR(a.shell_min->inches(), 3, 1e-12);
}

TEST(bores, sound_ones_alone_leave_the_section_whole) {
    const Assessed a = sound_girth().with(sound_bore().toward(0)).with(sound_bore()).assess();
    EXPECT_EQ(a.governing(), 1.0);
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    EXPECT_TRUE(a.shells.empty());
}

TEST(bores, at_45_degrees_seven_tenths_count) {
    EXPECT_NEAR(effective(sound_girth().with(rot(5).toward(0).bored_at(45))), 3.5, 1e-12);
}

TEST(bores, at_another_angle_the_cosine_counts) {
    for (const double angle : {0.0, 10.0, 30.0, 44.9, 60.0, 89.0}) {
        EXPECT_NEAR(effective(sound_girth().with(rot(5).toward(0).bored_at(angle))),
                    5 * std::cos(angle * std::numbers::pi / 180),
                    1e-12)
            << angle;
    }
}

TEST(bores, without_an_angle_the_figure_is_effective_already) {
    EXPECT_NEAR(effective(sound_girth().with(rot(5).toward(0))), 5, 1e-12);
}

TEST(bores, an_angle_that_cannot_be_leaves_the_shell_unmeasured) {
    for (const double angle : {90.0, 135.0, -45.0}) {
        const Assessed a = sound_girth().with(rot(5).toward(0).bored_at(angle)).assess();
        EXPECT_EQ(a.verdict, Verdict::unassessed) << angle;
        EXPECT_TRUE(a.reasons.has(Reason::shell_thickness_missing));
        EXPECT_EQ(a.count(finding::kBoreAngle), 1);
    }
}

TEST(bores, from_a_pocket_its_depth_is_added) {
    const Assessed a = sound_girth()
                           .with(rot(2).toward(90).from_pocket())
                           .with(pocket(3, 1.5).toward(90))
                           .assess();
    EXPECT_NEAR(a.shells.front().shell.inches(), 3.5, 1e-9);
    const SectionShape shape = shape_in(kGirth, {{90, 3, 1.5}}, {{90, 3.5}});
    EXPECT_NEAR(a.governing(), share_from(90, shape, kGirth), 1e-9);
}

TEST(bores, the_angle_comes_before_the_pockets_depth) {
    EXPECT_NEAR(effective(sound_girth()
                              .with(rot(2).toward(90).bored_at(45).from_pocket())
                              .with(pocket(3, 1.5).toward(90))),
                2 * 0.7 + 1.5,
                1e-9);
}

TEST(bores, the_depth_added_is_that_of_the_pocket_that_covers_it) {
    const auto bored_toward = [](double azimuth) {
        return effective(sound_girth()
                             .with(rot(2).toward(azimuth).from_pocket())
                             .with(pocket(3, 1.0).toward(90))
                             .with(pocket(3, 2.5).toward(270)));
    };
    EXPECT_NEAR(bored_toward(90), 3.0, 1e-9);
    EXPECT_NEAR(bored_toward(270), 4.5, 1e-9);
    EXPECT_NEAR(bored_toward(275), 4.5, 1e-9) << "within the mouth";
}

TEST(bores, of_several_pockets_that_may_cover_it_the_shallowest_is_added) {
    EXPECT_NEAR(effective(sound_girth()
                              .with(rot(2).from_pocket())
                              .with(pocket(3, 2.5).toward(270))
                              .with(pocket(3, 1.0).toward(90))),
                3.0,
                1e-9);
}

TEST(bores, from_a_pocket_that_is_not_recorded_nothing_is_added) {
    const Assessed a = sound_girth().with(rot(2.5).toward(0).from_pocket()).assess();
    EXPECT_NEAR(a.shells.front().shell.inches(), 2.5, 1e-12);
    EXPECT_EQ(a.count(finding::kBorePocket), 1);
}

TEST(bores, within_one_degree_the_least_stands) {
    const auto merged = [](double apart) {
        return sound_girth()
            .with(rot(5).toward(40))
            .with(rot(3).toward(40 + apart))
            .with(rot(6).toward(200))
            .assess()
            .groundline()
            .shape.shell.size();
    };
    EXPECT_EQ(merged(0.0), 2U);
    EXPECT_EQ(merged(0.9), 2U);
    EXPECT_EQ(merged(1.0), 2U);
    EXPECT_EQ(merged(1.001), 3U);
    const Assessed a = sound_girth()
                           .with(rot(5).toward(359.6))
                           .with(rot(3).toward(0.4))
                           .with(rot(6).toward(200))
                           .assess();
    const SectionShape shape = shape_in(kGirth, {}, {{0.4, 3}, {200, 6}});
    EXPECT_NEAR(a.weakest(), weakest_share(shape, kGirth), 1e-9) << "across north";
}

TEST(bores, a_sound_one_does_not_heal_rot_beside_it) {
    const Assessed a =
        sound_girth().with(sound_bore().toward(40.5)).with(rot(3).toward(40)).assess();
    EXPECT_NEAR(a.governing(), hollow_share(3, kGirth), 1e-9);
}

TEST(bores, a_merged_one_is_asked_for_its_shell_all_the_same) {
    const Assessed a = sound_girth().with(rot(5).toward(40)).with(rot(3).toward(40)).assess();
    EXPECT_EQ(a.shells.size(), 2U);
}

TEST(bores, one_without_an_azimuth_brings_the_least_thickness_all_round) {
    const Assessed a =
        sound_girth().with(rot(6)).with(rot(4).toward(0)).with(sound_bore().toward(180)).assess();
    EXPECT_NEAR(a.governing(), hollow_share(4, kGirth), 1e-9);
}

TEST(bores, a_sound_one_without_an_azimuth_thickens_no_shell) {
    const Assessed a = sound_girth().with(rot(4).toward(0)).with(sound_bore()).assess();
    EXPECT_NEAR(a.governing(), hollow_share(4, kGirth), 1e-9);
    EXPECT_EQ(a.count(finding::kBoreUnplaced), 1);
}

TEST(bores, one_belongs_to_the_section_at_its_entry) {
    const Assessed a = sound_girth().with(rot(4).at(3).toward(0).bored_at(60)).assess();
    EXPECT_EQ(a.groundline().strengths->governing, 1.0);
    EXPECT_LT(a.section(3).strengths->governing, 1.0);
}

TEST(bores, a_shell_of_nothing_leaves_nothing) {
    const Assessed a = sound_girth().with(rot(0).toward(0)).assess();
    EXPECT_EQ(a.governing(), 0.0);
    EXPECT_TRUE(a.reasons.has(Reason::shell_below_limit));
}

TEST(bores, the_least_shell_is_over_all_sections) {
    const Assessed a = sound_girth()
                           .with(rot(4).toward(0))
                           .with(rot(2.5).at(4).toward(0))
                           .with(rot(3).at(9).toward(0))
                           .assess();
    EXPECT_NEAR(a.shell_min->inches(), 2.5, 1e-12);
}

}  // namespace
}  // namespace linewood::test
