// "`verdict` is the first that applies": each row of the table, and what makes a section decayed.

#include "assess/verdict/verdict.hpp"

#include <string>

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Measured and sound.
PoleCase sound() { return PoleCase{}.original(40).present(40); }

void expect(const PoleCase& c, Verdict verdict, const std::string& codes) {
    const Assessed a = c.assess();
    EXPECT_EQ(name_of(a.verdict), name_of(verdict));
    EXPECT_EQ(a.codes(), codes);
}

TEST(verdict, words_of_the_output) {
    EXPECT_EQ(name_of(Verdict::replace), "replace");
    EXPECT_EQ(name_of(Verdict::stub), "stub");
    EXPECT_EQ(name_of(Verdict::unassessed), "unassessed");
    EXPECT_EQ(name_of(Verdict::treat), "treat");
    EXPECT_EQ(name_of(Verdict::serviceable), "serviceable");
    EXPECT_EQ(name_of(Urgency::now), "now");
    EXPECT_EQ(name_of(Urgency::soon), "soon");
    EXPECT_EQ(name_of(Urgency::routine), "routine");
    EXPECT_EQ(name_of(Urgency::none), "");
}

TEST(verdict, not_wood_is_unassessed) {
    PoleCase c = PoleCase{}.original(40).present(20).damage(AbovegroundDamage::extensive);
    c.pole.is_wood = false;
    expect(c, Verdict::unassessed, "not_wood");
    EXPECT_TRUE(c.assess().sections.empty());
    EXPECT_EQ(c.assess().urgency, Urgency::none);
}

TEST(verdict, never_inspected_is_unassessed) {
    expect(PoleCase{}.never_inspected().recorded(40), Verdict::unassessed, "not_inspected");
}

TEST(verdict, a_section_above_the_zone_that_fails_is_replaced) {
    expect(sound().with(sound_pocket(8, 5).at(10).toward(90)),
           Verdict::replace,
           "strength_below_limit;weakest_below_limit");
}

TEST(verdict, extensive_damage_is_replaced) {
    expect(sound().damage(AbovegroundDamage::extensive), Verdict::replace, "extensive_damage");
}

TEST(verdict, unsafe_to_climb_with_nothing_failing_in_the_zone_is_replaced) {
    expect(sound().unsafe(), Verdict::replace, "unsafe_to_climb");
}

TEST(verdict, unsafe_to_climb_because_of_the_zone_is_stubbed) {
    expect(PoleCase{}.original(40).present(32).unsafe().damage(AbovegroundDamage::none),
           Verdict::stub,
           "circumference_below_limit;decay_present;strength_below_limit;unsafe_to_climb");
}

TEST(verdict, climbing_not_recorded_or_safe_says_nothing) {
    PoleCase c = sound();
    c.visits.back().climb_safe = Answer::yes;
    expect(c, Verdict::serviceable, "");
}

TEST(verdict, the_zone_that_fails_is_stubbed) {
    expect(PoleCase{}.original(40).present(32).damage(AbovegroundDamage::none),
           Verdict::stub,
           "circumference_below_limit;decay_present;strength_below_limit");
}

TEST(verdict, decay_below_the_excavation_is_stubbed) {
    expect(sound().decay_below().damage(AbovegroundDamage::none),
           Verdict::stub,
           "decay_below_excavation");
}

TEST(verdict, decay_is_treated) {
    expect(PoleCase{}.original(40).present(39), Verdict::treat, "decay_present");
}

TEST(verdict, decay_treated_at_this_visit_leaves_no_open_work) {
    expect(PoleCase{}.original(40).present(39).treated(), Verdict::treat, "decay_present;treated");
}

TEST(verdict, treated_is_said_of_a_pole_to_treat_only) {
    expect(sound().treated(), Verdict::serviceable, "");
    EXPECT_FALSE(
        PoleCase{}.original(40).present(30).treated().assess().reasons.has(Reason::treated));
}

TEST(verdict, the_rest_is_serviceable) { expect(sound(), Verdict::serviceable, ""); }

TEST(verdict, minor_damage_is_a_reason_and_nothing_more) {
    expect(sound().damage(AbovegroundDamage::minor), Verdict::serviceable, "minor_damage");
    expect(sound().damage(AbovegroundDamage::none), Verdict::serviceable, "");
}

TEST(verdict, replace_comes_before_stub) {
    const PoleCase zone_fails = PoleCase{}.original(40).present(32);
    EXPECT_EQ(PoleCase{zone_fails}.damage(AbovegroundDamage::extensive).assess().verdict,
              Verdict::replace);
    EXPECT_EQ(PoleCase{zone_fails}.with(sound_pocket(8, 5).at(10).toward(90)).assess().verdict,
              Verdict::replace);
}

TEST(verdict, stub_comes_before_treat) {
    EXPECT_EQ(PoleCase{}.original(40).present(32).with(rot(4)).assess().verdict, Verdict::stub);
}

TEST(decay, each_kind_of_defect) {
    struct Row {
        DefectCase defect;
        bool decay = false;
    };
    for (const Row& r : {
             Row{shell_rot().girth(40), true},
             Row{shell_rot().girth(40).cause(DefectCause::mechanical), true},
             Row{rot(5), true},
             Row{rot(5).cause(DefectCause::check), true},
             Row{sound_bore(), false},
             Row{sound_bore().cause(DefectCause::decay), false},
             Row{pocket(1, 1), true},
             Row{pocket(1, 1).cause(DefectCause::decay), true},
             Row{pocket(1, 1).cause(DefectCause::insect), true},
             Row{pocket(1, 1).cause(DefectCause::mechanical), false},
             Row{pocket(1, 1).cause(DefectCause::woodpecker), false},
             Row{pocket(1, 1).cause(DefectCause::fire), false},
             Row{pocket(1, 1).cause(DefectCause::check), false},
             Row{pocket(1, 1).cause(DefectCause::bolt_hole), false},
         }) {
        for (const double feet : {0.0, 10.0}) {
            const Assessed a = sound().with(DefectCase{r.defect}.at(feet)).assess();
            EXPECT_EQ(a.verdict, r.decay ? Verdict::treat : Verdict::serviceable)
                << static_cast<int>(r.defect.defect().kind) << ' '
                << static_cast<int>(r.defect.defect().cause);
            EXPECT_EQ(a.reasons.has(Reason::decay_present), r.decay);
        }
    }
}

TEST(decay, a_girth_under_98_percent) {
    EXPECT_EQ(PoleCase{}.original(50).present(49).assess().verdict, Verdict::serviceable);
    EXPECT_EQ(PoleCase{}.original(50).present(49 * (1 - 0.5e-9)).assess().verdict,
              Verdict::serviceable);
    EXPECT_EQ(PoleCase{}.original(50).present(49 * (1 - 3e-9)).assess().verdict, Verdict::treat);
}

TEST(decay, a_girth_under_98_percent_above_the_groundline) {
    const Assessed a = sound().with(sound_bore().at(10).girth(39)).assess();
    EXPECT_EQ(a.verdict, Verdict::treat);
    EXPECT_TRUE(a.reasons.has(Reason::decay_above_groundline));
}

TEST(zone, runs_up_to_15_inches_inclusive) {
    struct Row {
        Length height;
        Verdict verdict = Verdict::unassessed;
    };
    for (const Row& r : {Row{Length::inches(15), Verdict::stub},
                         Row{Length::feet(1.25), Verdict::stub},
                         Row{Length::millimetres(381), Verdict::stub},
                         Row{Length::inches(15.001), Verdict::replace},
                         Row{Length::feet(-3), Verdict::stub}}) {
        PoleCase c = sound().with(sound_pocket(8, 5).toward(90));
        c.defects.back().height = r.height;
        EXPECT_EQ(name_of(c.assess().verdict), name_of(r.verdict)) << r.height.inches();
    }
}

TEST(zone, its_top_is_a_setting) {
    PoleCase c = sound().with(sound_pocket(8, 5).at_inches(20).toward(90));
    c.criteria.zone_top = Length::inches(24);
    EXPECT_EQ(c.assess().verdict, Verdict::stub);
}

TEST(verdict, inspected_on_is_the_date_of_the_visit_assessed) {
    EXPECT_EQ(sound().assess().inspected_on, day("2024-05-01"));
    EXPECT_FALSE(sound().undated().assess().inspected_on.has_value());
}

}  // namespace
}  // namespace linewood::test
