// "Missing data never turns a failure into a pass or into `unassessed`, and never gives a pass."

#include <string>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

void expect_unassessed(const PoleCase& c, const std::string& codes) {
    const Assessed a = c.assess();
    EXPECT_EQ(name_of(a.verdict), "unassessed");
    EXPECT_EQ(a.urgency, Urgency::none);
    EXPECT_EQ(a.codes(), codes);
}

TEST(missing, present_girth) {
    expect_unassessed(PoleCase{}.original(40).method(InspectionMethod::hammer),
                      "present_circumference_missing");
}

TEST(missing, original_girth) {
    expect_unassessed(PoleCase{}.present(40), "original_circumference_missing");
}

TEST(missing, both_girths) {
    expect_unassessed(PoleCase{}.with(sound_bore()),
                      "original_circumference_missing;present_circumference_missing");
}

TEST(missing, size_of_a_pocket) {
    for (const DefectCase& d : {pocket(), pocket().width(2), pocket().depth(2)}) {
        expect_unassessed(PoleCase{}.original(40).present(40).with(d),
                          "decay_present;pocket_size_missing");
    }
}

TEST(missing, size_of_one_pocket_of_several) {
    expect_unassessed(
        PoleCase{}.original(40).present(40).with(pocket(1, 1)).with(pocket().width(1)),
        "decay_present;pocket_size_missing");
}

TEST(missing, size_of_a_pocket_above_the_groundline) {
    expect_unassessed(PoleCase{}
                          .original(40)
                          .present(40)
                          .with(sound_pocket(1, 1).at(20))
                          .with(pocket().at(9).cause(DefectCause::woodpecker)),
                      "pocket_size_missing");
}

TEST(missing, shell_of_an_internal_rot_bore) {
    expect_unassessed(PoleCase{}.original(40).present(40).with(rot()),
                      "decay_present;shell_thickness_missing");
}

TEST(missing, shell_of_one_bore_of_several) {
    expect_unassessed(
        PoleCase{}.original(40).present(40).with(rot(4).toward(0)).with(rot().toward(90)),
        "decay_present;shell_thickness_missing");
}

TEST(missing, a_sound_bore_needs_no_shell) {
    EXPECT_EQ(PoleCase{}.original(40).present(40).with(sound_bore()).assess().verdict,
              Verdict::serviceable);
}

TEST(missing, everything_missing_is_named) {
    expect_unassessed(PoleCase{}.with(pocket()).with(rot()),
                      "decay_present;original_circumference_missing;pocket_size_missing;"
                      "present_circumference_missing;shell_thickness_missing");
}

TEST(nothing_measured, an_inspection_without_girth_bore_or_defect) {
    for (const auto method :
         {InspectionMethod::not_recorded, InspectionMethod::visual, InspectionMethod::hammer}) {
        expect_unassessed(PoleCase{}.recorded(40).method(method),
                          "nothing_measured;present_circumference_missing");
    }
}

TEST(nothing_measured, any_measurement_is_something) {
    for (const PoleCase& c : {PoleCase{}.original(40),
                              PoleCase{}.recorded(40).present(40),
                              PoleCase{}.recorded(40).with(sound_bore()),
                              PoleCase{}.recorded(40).with(pocket()),
                              PoleCase{}.recorded(40).method(InspectionMethod::bore),
                              PoleCase{}.excavated()}) {
        EXPECT_FALSE(c.assess().reasons.has(Reason::nothing_measured));
    }
}

TEST(nothing_measured, what_was_seen_decides_all_the_same) {
    const Assessed a = PoleCase{}.recorded(40).damage(AbovegroundDamage::extensive).assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
    EXPECT_TRUE(a.reasons.has(Reason::nothing_measured));
}

// A failure stands whatever is missing beside it.

TEST(a_failure_stands, without_the_size_of_another_pocket) {
    const Assessed a =
        PoleCase{}.original(40).present(40).with(pocket(8, 5).toward(90)).with(pocket()).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::pocket_size_missing));
    EXPECT_NEAR(a.governing(), share_from(90, shape_in(40, {{90, 8, 5}}), 40), 1e-9)
        << "an upper bound, written because it fails";
}

TEST(a_failure_stands, without_the_original_girth) {
    const Assessed a = PoleCase{}.present(40).with(pocket(8, 5).toward(90)).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::strength_below_limit));
    EXPECT_TRUE(a.reasons.has(Reason::original_circumference_missing));
    EXPECT_FALSE(a.groundline().original.has_value());
    EXPECT_NEAR(a.governing(), share_from(90, shape_in(40, {{90, 8, 5}}), 40), 1e-9);
}

TEST(a_failure_stands, without_the_present_girth) {
    const Assessed a = PoleCase{}.original(40).with(pocket(8, 5).toward(90)).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::strength_below_limit));
    EXPECT_TRUE(a.reasons.has(Reason::present_circumference_missing));
    EXPECT_FALSE(a.groundline().present.has_value());
}

TEST(a_failure_stands, without_any_girth_where_the_shell_alone_fails) {
    const Assessed a = PoleCase{}.with(rot(1.5)).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::shell_below_limit));
    EXPECT_FALSE(a.worst_section.has_value());
    EXPECT_NEAR(a.shell_min->inches(), 1.5, 1e-12);
}

TEST(a_failure_stands, without_any_girth_where_the_shell_behind_a_pocket_fails) {
    const Assessed a = PoleCase{}.with(rot(3).toward(0)).with(pocket(2, 1.5).toward(180)).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_TRUE(a.reasons.has(Reason::shell_below_limit));
    EXPECT_NEAR(a.shell_min->inches(), 1.5, 1e-9);
}

TEST(a_failure_stands, without_the_shell_of_another_bore) {
    const Assessed a =
        PoleCase{}.original(40).present(40).with(rot(1.5).toward(0)).with(rot()).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
}

TEST(a_failure_stands, a_bore_without_azimuth_and_shell_still_means_the_least_all_round) {
    const auto case_of = [](const DefectCase& third) {
        return PoleCase{}
            .original(60)
            .present(60)
            .with(rot(2.1).toward(0))
            .with(rot(8).toward(180))
            .with(third);
    };
    ASSERT_NEAR(case_of(rot(5)).assess().governing(), hollow_share(2.1, 60), 1e-9);
    const Assessed a = case_of(rot()).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_NEAR(a.governing(), hollow_share(2.1, 60), 1e-9);
}

TEST(a_failure_stands, above_the_zone_while_the_groundline_is_unmeasured) {
    const Assessed a = PoleCase{}.original(40).with(sound_pocket(8, 5).at(10).toward(90)).assess();
    EXPECT_EQ(a.verdict, Verdict::replace);
    EXPECT_TRUE(a.reasons.has(Reason::present_circumference_missing));
}

TEST(a_failure_stands, in_the_zone_while_a_section_above_is_unmeasured) {
    const Assessed a = PoleCase{}
                           .original(40)
                           .present(32)
                           .with(pocket().at(10).cause(DefectCause::woodpecker))
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
}

TEST(figures, of_an_incomplete_section_are_written_only_where_it_fails) {
    const Assessed a = PoleCase{}.original(40).present(36).with(pocket()).assess();
    EXPECT_FALSE(a.groundline().strengths.has_value());
    EXPECT_FALSE(a.worst_section.has_value());
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::incomplete);
    EXPECT_NEAR(a.groundline().present->inches(), 36, 1e-12) << "what is known is written";
}

TEST(figures, the_shell_behind_a_pocket_needs_the_girth_it_depends_on) {
    // Between rot and a sound bore the shell runs to the radius, which is not known here.
    const Assessed a = PoleCase{}
                           .with(rot(4).toward(0))
                           .with(sound_bore().toward(180))
                           .with(pocket(2, 1.5).toward(90))
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    ASSERT_EQ(a.shells.size(), 1U);
    EXPECT_NEAR(a.shell_min->inches(), 4, 1e-12);
}

}  // namespace
}  // namespace linewood::test
