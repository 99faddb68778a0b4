#include <cmath>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// A round section that keeps this share of the governing strength.
PoleCase keeping(double share) { return PoleCase{}.original(40).present(40 * std::cbrt(share)); }

Urgency urgency(const PoleCase& c) { return c.assess().urgency; }

TEST(urgency, now_under_two_thirds_of_the_limit) {
    const double limit = 0.65 * 2.0 / 3.0;
    EXPECT_EQ(urgency(keeping(limit)), Urgency::soon);
    EXPECT_EQ(urgency(keeping(limit * (1 + 1e-8))), Urgency::soon);
    EXPECT_EQ(urgency(keeping(limit * (1 - 1e-8))), Urgency::now);
    EXPECT_EQ(urgency(keeping(0.1)), Urgency::now);
}

TEST(urgency, now_for_a_section_above_too) {
    const PoleCase c = PoleCase{}.original(40).present(40);
    const double soon = shell_keeping(0.6, 40);
    const double now = shell_keeping(0.4, 40);
    EXPECT_EQ(urgency(PoleCase{c}.with(rot(soon).at(9))), Urgency::soon);
    EXPECT_EQ(urgency(PoleCase{c}.with(rot(now).at(9))), Urgency::now);
}

TEST(urgency, now_where_unsafe_to_climb) {
    EXPECT_EQ(urgency(PoleCase{}.original(40).present(40).unsafe()), Urgency::now);
    EXPECT_EQ(urgency(keeping(0.6).unsafe()), Urgency::now) << "a stub";
}

TEST(urgency, now_for_extensive_damage) {
    EXPECT_EQ(urgency(PoleCase{}.original(40).present(40).damage(AbovegroundDamage::extensive)),
              Urgency::now);
}

TEST(urgency, now_for_a_split_section) {
    PoleCase c = PoleCase{}
                     .original(45)
                     .present(45)
                     .with(pocket(1, 2.5).toward(90))
                     .with(pocket(1, 2.5).toward(270))
                     .with(rot(2.2).toward(0));
    c.criteria.governing_strength_min = 0.0;  // its strength alone would say `now`
    const Assessed a = c.assess();
    ASSERT_TRUE(a.reasons.has(Reason::section_split));
    EXPECT_EQ(a.urgency, Urgency::now);
}

TEST(urgency, soon_for_any_other_stub_or_replacement) {
    EXPECT_EQ(urgency(keeping(0.6)), Urgency::soon);
    EXPECT_EQ(urgency(PoleCase{}.original(40).present(40).decay_below()), Urgency::soon);
    EXPECT_EQ(urgency(keeping(0.6).with(pocket(1, 1).at(10))), Urgency::soon);
    EXPECT_EQ(urgency(PoleCase{}.original(45).present(45).with(rot(1.9))), Urgency::soon);
}

TEST(urgency, the_zone_of_a_reinforced_pole_hurries_what_else_is_to_be_replaced) {
    EXPECT_EQ(urgency(keeping(0.3).reinforced().decay_below()), Urgency::now);
    EXPECT_EQ(urgency(keeping(0.3).decay_below()), Urgency::now);
    EXPECT_EQ(urgency(keeping(0.6).reinforced().decay_below()), Urgency::soon);
}

TEST(urgency, routine_for_the_rest) {
    EXPECT_EQ(urgency(keeping(0.9)), Urgency::routine) << "treat";
    EXPECT_EQ(urgency(keeping(1.0)), Urgency::routine) << "serviceable";
}

TEST(urgency, none_where_unassessed) {
    EXPECT_EQ(urgency(PoleCase{}), Urgency::none);
    EXPECT_EQ(urgency(PoleCase{}.never_inspected()), Urgency::none);
}

TEST(urgency, its_share_is_a_setting) {
    PoleCase c = keeping(0.6);
    c.criteria.urgent_strength_share = 0.95;
    EXPECT_EQ(urgency(c), Urgency::now);
}

}  // namespace
}  // namespace linewood::test
