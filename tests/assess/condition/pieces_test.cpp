// A section that falls apart.

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kGirth = 45;  // a radius of 7.162 in

/// A narrow shell cut through on both sides: two pieces.
PoleCase cut_through(const DefectCase& a, const DefectCase& b, const DefectCase& bore) {
    return PoleCase{}.original(kGirth).present(kGirth).with(a).with(b).with(bore);
}

PoleCase halves() {
    return cut_through(pocket(1, 2.5).toward(90), pocket(1, 2.5).toward(270), rot(2.2).toward(0));
}

SectionShape halves_shape(double girth = kGirth) {
    return shape_in(girth, {{90, 1, 2.5}, {270, 1, 2.5}}, {{0, 2.2}});
}

TEST(pieces, a_section_in_one_has_one) {
    const Assessed a = PoleCase{}.original(kGirth).present(kGirth).assess();
    EXPECT_EQ(a.groundline().pieces, 1);
    EXPECT_FALSE(a.groundline().split);
}

TEST(pieces, the_largest_carries_and_the_section_fails) {
    const RemainingSection expected{halves_shape()};
    ASSERT_EQ(expected.pieces(), 2);
    ASSERT_GT(expected.lost_share(), 0.4);
    const Assessed a = halves().assess();
    EXPECT_EQ(a.groundline().pieces, 2);
    EXPECT_TRUE(a.groundline().split);
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
    EXPECT_TRUE(a.reasons.has(Reason::section_split));
    EXPECT_NEAR(a.governing(), share_from(90, halves_shape(), kGirth), 1e-9);
}

TEST(pieces, a_split_alone_fails_a_section) {
    PoleCase c = halves();
    c.criteria.governing_strength_min = 0.0;
    c.criteria.weakest_strength_min = 0.0;
    c.criteria.shell_min = Length::inches(-10);
    EXPECT_EQ(c.assess().groundline().reasons.to_string(), "section_split");
}

TEST(pieces, what_is_lost_may_be_as_much_as_the_setting) {
    const double lost = RemainingSection{halves_shape()}.lost_share();
    for (const bool met : {true, false}) {
        PoleCase c = halves();
        c.criteria.split_loss_max = met ? lost : lost * (1.0 - 1e-6);
        EXPECT_EQ(c.assess().groundline().split, !met);
    }
}

TEST(pieces, a_small_loss_is_no_split) {
    // A splinter between two deep narrow pockets side by side over rot.
    const SectionShape shape = shape_in(kGirth, {{80, 1, 3}, {100, 1, 3}}, {{0, 2.5}});
    const RemainingSection expected{shape};
    ASSERT_EQ(expected.pieces(), 2);
    ASSERT_LT(expected.lost_share(), 0.05);
    const Assessed a =
        cut_through(pocket(1, 3).toward(80), pocket(1, 3).toward(100), rot(2.5).toward(0)).assess();
    EXPECT_EQ(a.groundline().pieces, 2);
    EXPECT_FALSE(a.groundline().split);
    EXPECT_FALSE(a.reasons.has(Reason::section_split));
}

TEST(pieces, all_act_together_where_every_defect_that_parts_it_is_short) {
    const Assessed a = cut_through(pocket(1, 2.5).toward(90).extent(6),
                                   pocket(1, 2.5).toward(270).extent(6),
                                   rot(2.2).toward(0).extent(6))
                           .assess();
    EXPECT_FALSE(a.groundline().split);
    EXPECT_FALSE(a.reasons.has(Reason::section_split));
    SectionShape net = halves_shape();
    net.void_local = true;
    for (Pocket& p : net.pockets) {
        p.local = true;
    }
    EXPECT_NEAR(a.governing(), share_from(90, net, kGirth), 1e-9);
    EXPECT_GT(a.governing(), share_from(90, halves_shape(), kGirth) + 0.1);
}

TEST(pieces, short_means_under_one_diameter) {
    const double diameter = kGirth / 3.14159265358979323846;
    struct Row {
        double extent;
        bool split;
    };
    for (const Row& r :
         {Row{diameter * (1 - 1e-6), false}, Row{diameter * (1 + 1e-6), true}, Row{100, true}}) {
        const Assessed a = cut_through(pocket(1, 2.5).toward(90).extent(r.extent),
                                       pocket(1, 2.5).toward(270).extent(r.extent),
                                       rot(2.2).toward(0).extent(r.extent))
                               .assess();
        EXPECT_EQ(a.groundline().split, r.split) << r.extent;
    }
}

TEST(pieces, a_long_pocket_over_short_rot_is_enough) {
    const double long_extent = 1.2 * kGirth / 3.14159265358979323846;
    EXPECT_TRUE(cut_through(pocket(1, 2.5).toward(90).extent(long_extent),
                            pocket(1, 2.5).toward(270).extent(6),
                            rot(2.2).toward(0).extent(6))
                    .assess()
                    .groundline()
                    .split);
}

TEST(pieces, one_defect_of_unknown_extent_that_parts_it_is_enough) {
    for (const int unknown : {0, 1, 2}) {
        DefectCase parts[3] = {
            pocket(1, 2.5).toward(90), pocket(1, 2.5).toward(270), rot(2.2).toward(0)};
        for (int i = 0; i < 3; ++i) {
            if (i != unknown) {
                parts[i].extent(6);
            }
        }
        EXPECT_TRUE(cut_through(parts[0], parts[1], parts[2]).assess().groundline().split)
            << unknown;
    }
}

TEST(pieces, a_long_defect_that_parts_nothing_does_not_count) {
    PoleCase c = cut_through(pocket(1, 2.5).toward(90).extent(6),
                             pocket(1, 2.5).toward(270).extent(6),
                             rot(2.2).toward(0).extent(6));
    c.with(pocket(0.5, 0.5).toward(20));
    EXPECT_FALSE(c.assess().groundline().split);
}

}  // namespace
}  // namespace linewood::test
