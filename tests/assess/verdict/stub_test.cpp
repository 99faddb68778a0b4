// Fit for a stub or not, and what is to be looked at before one is ordered.

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// The groundline fails; nothing is recorded above it.
PoleCase zone_fails() { return PoleCase{}.original(40).present(32); }

TEST(stub, decay_recorded_above_the_zone_bars_it) {
    const Assessed a = zone_fails().with(pocket(0.5, 0.5).at(10)).assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
    EXPECT_TRUE(a.reasons.has(Reason::decay_above_groundline));
}

TEST(stub, decay_recorded_above_the_zone_bars_it_below_the_excavation_too) {
    const Assessed a =
        PoleCase{}.original(40).present(40).decay_below().with(pocket(0.5, 0.5).at(10)).assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
}

TEST(stub, damage_above_that_is_no_decay_does_not_bar_it) {
    EXPECT_EQ(zone_fails().with(sound_pocket(1, 1).at(10)).assess().verdict, Verdict::stub);
    EXPECT_EQ(zone_fails().with(sound_bore().at(10)).assess().verdict, Verdict::stub);
}

TEST(stub, minor_damage_does_not_bar_it) {
    const Assessed a = zone_fails().damage(AbovegroundDamage::minor).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::minor_damage));
}

TEST(stub, decay_in_the_zone_does_not_bar_it) {
    EXPECT_EQ(zone_fails().with(pocket(1, 1).at_inches(15)).assess().verdict, Verdict::stub);
    EXPECT_EQ(zone_fails().with(pocket(1, 1).at(-2)).assess().verdict, Verdict::stub);
}

TEST(stub, decay_above_the_zone_bars_it_in_a_section_that_starts_within) {
    // One section from 12 in on; its second defect lies at 17 in, above the zone.
    const Assessed a = zone_fails()
                           .with(pocket(0.5, 0.5).at_inches(12))
                           .with(pocket(0.5, 0.5).at_inches(17))
                           .assess();
    ASSERT_EQ(a.sections.size(), 2U);
    EXPECT_EQ(a.verdict, Verdict::replace);
    EXPECT_TRUE(a.reasons.has(Reason::decay_above_groundline));
}

TEST(stub, where_nothing_above_was_recorded_it_is_to_be_confirmed) {
    EXPECT_TRUE(zone_fails().assess().reasons.has(Reason::confirm_above_groundline));
    for (const PoleCase& c : {zone_fails().damage(AbovegroundDamage::none),
                              zone_fails().damage(AbovegroundDamage::minor),
                              zone_fails().with(sound_bore().at(5)),
                              zone_fails().with(sound_pocket(1, 1).at(5))}) {
        const Assessed a = c.assess();
        EXPECT_EQ(a.verdict, Verdict::stub);
        EXPECT_FALSE(a.reasons.has(Reason::confirm_above_groundline));
    }
}

TEST(stub, internal_rot_in_the_zone_without_a_bore_above_it_is_to_be_confirmed) {
    const PoleCase rotten = zone_fails().damage(AbovegroundDamage::none).with(rot(1).toward(0));
    EXPECT_TRUE(rotten.assess().reasons.has(Reason::confirm_above_groundline));
    EXPECT_FALSE(PoleCase{rotten}
                     .with(sound_bore().at(5))
                     .assess()
                     .reasons.has(Reason::confirm_above_groundline));
    EXPECT_TRUE(PoleCase{rotten}
                    .with(sound_pocket(1, 1).at(5))
                    .assess()
                    .reasons.has(Reason::confirm_above_groundline))
        << "a pocket is no bore";
    EXPECT_TRUE(PoleCase{rotten}
                    .with(sound_bore().at_inches(15))
                    .assess()
                    .reasons.has(Reason::confirm_above_groundline))
        << "a bore in the zone is not above it";
}

TEST(stub, only_a_stub_is_to_be_confirmed) {
    EXPECT_FALSE(
        PoleCase{}.original(40).present(39).assess().reasons.has(Reason::confirm_above_groundline));
    EXPECT_FALSE(zone_fails()
                     .damage(AbovegroundDamage::extensive)
                     .assess()
                     .reasons.has(Reason::confirm_above_groundline));
}

TEST(stub, unsafe_to_climb_for_no_failure_in_the_zone_comes_before_decay_below_excavation) {
    const Assessed a = PoleCase{}.original(40).present(40).decay_below().unsafe().assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
}

// A reinforced pole.

TEST(reinforced, limits_in_the_zone_are_reported_but_do_not_decide) {
    const Assessed a = zone_fails().reinforced().assess();
    EXPECT_EQ(a.verdict, Verdict::treat);
    EXPECT_EQ(a.urgency, Urgency::routine);
    EXPECT_EQ(a.codes(),
              "already_reinforced;circumference_below_limit;decay_present;strength_below_limit");
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
}

TEST(reinforced, limits_above_the_zone_decide) {
    const Assessed a = PoleCase{}
                           .original(40)
                           .present(40)
                           .reinforced()
                           .with(sound_pocket(8, 5).at(10).toward(90))
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
    EXPECT_TRUE(a.reasons.has(Reason::already_reinforced));
}

TEST(reinforced, unsafe_to_climb_is_replaced_even_where_the_zone_fails) {
    EXPECT_EQ(zone_fails().reinforced().unsafe().assess().verdict, Verdict::replace);
}

TEST(reinforced, decay_below_the_excavation_is_replaced) {
    EXPECT_EQ(PoleCase{}.original(40).present(40).reinforced().decay_below().assess().verdict,
              Verdict::replace);
}

TEST(reinforced, a_sound_one_is_serviceable_and_says_so) {
    const Assessed a = PoleCase{}.original(40).present(40).reinforced().assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    EXPECT_EQ(a.codes(), "already_reinforced");
}

TEST(reinforced, missing_data_gives_no_pass) {
    EXPECT_EQ(PoleCase{}.original(40).reinforced().assess().verdict, Verdict::unassessed);
}

TEST(reinforced, missing_data_gives_no_pass_beside_a_limit_that_does_not_decide) {
    const Assessed a = zone_fails().reinforced().with(pocket()).assess();
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_TRUE(a.reasons.has(Reason::pocket_size_missing));
}

}  // namespace
}  // namespace linewood::test
