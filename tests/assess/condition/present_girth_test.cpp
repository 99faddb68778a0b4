// C: what is measured, what shell rot says of it, and what stands for it at other heights.

#include <numbers>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kTwoPi = 2.0 * std::numbers::pi;

PoleCase forty_foot() { return PoleCase{}.listed("southern_pine", 40, "4"); }
double taper(double height_ft) { return 33.5 - height_ft * (33.5 - 21.0) / 34.0; }

double present_in(const Assessed& a, double feet = 0.0) {
    return a.section(feet).present->inches();
}
double original_in(const Assessed& a, double feet = 0.0) {
    return a.section(feet).original->inches();
}

TEST(shell_rot, its_girth_is_that_of_its_height) {
    const Assessed a =
        forty_foot().original(34).present(34).with(shell_rot().at(10).girth(28)).assess();
    EXPECT_NEAR(present_in(a), 34, 1e-12);
    EXPECT_NEAR(present_in(a, 10), 28, 1e-12);
    EXPECT_NEAR(a.section(10).strengths->governing, cubed(28 / (34 * taper(10) / taper(0))), 1e-9);
}

TEST(shell_rot, depth_alone_takes_off_the_girth_all_round) {
    const Assessed a = PoleCase{}.original(40).with(shell_rot().depth(0.4)).assess();
    EXPECT_NEAR(present_in(a), 40 - kTwoPi * 0.4, 1e-9);
    EXPECT_NEAR(a.governing(), cubed(1 - kTwoPi * 0.4 / 40), 1e-9);
    EXPECT_EQ(a.verdict, Verdict::treat) << "nothing more is needed";
}

TEST(shell_rot, depth_alone_works_at_any_height) {
    const Assessed a =
        forty_foot().original(36).present(36).with(shell_rot().at(10).depth(0.3)).assess();
    const double original = 36 * taper(10) / taper(0);
    EXPECT_NEAR(present_in(a, 10), original - kTwoPi * 0.3, 1e-9);
}

TEST(shell_rot, the_deepest_of_several_counts) {
    const Assessed a = PoleCase{}
                           .original(40)
                           .with(shell_rot().depth(0.2))
                           .with(shell_rot().depth(0.5))
                           .with(shell_rot().depth(0.3))
                           .assess();
    EXPECT_NEAR(present_in(a), 40 - kTwoPi * 0.5, 1e-9);
}

TEST(shell_rot, with_both_the_original_is_at_least_what_was_there) {
    const Assessed raised = PoleCase{}.original(38).with(shell_rot().depth(0.5).girth(36)).assess();
    EXPECT_NEAR(present_in(raised), 36, 1e-12);
    EXPECT_NEAR(original_in(raised), 36 + kTwoPi * 0.5, 1e-9);
    EXPECT_NEAR(raised.original->inches(), 36 + kTwoPi * 0.5, 1e-9);
    const Assessed kept = PoleCase{}.original(40).with(shell_rot().depth(0.5).girth(36)).assess();
    EXPECT_NEAR(original_in(kept), 40, 1e-12);
}

TEST(shell_rot, a_girth_of_the_same_section_was_taken_after_it_came_off) {
    const Assessed a = PoleCase{}.original(38).present(36).with(shell_rot().depth(0.5)).assess();
    EXPECT_NEAR(present_in(a), 36, 1e-12) << "it is not taken off twice";
    EXPECT_NEAR(original_in(a), 36 + kTwoPi * 0.5, 1e-9);
}

TEST(shell_rot, part_of_the_circle_is_an_external_pocket) {
    const Assessed a =
        PoleCase{}.original(40).present(39).with(shell_rot().width(5).depth(1).toward(70)).assess();
    const SectionShape shape = shape_in(39, {{70, 5, 1}});
    EXPECT_NEAR(a.governing(), share_from(90, shape, 40), 1e-9);
    EXPECT_NEAR(a.groundline().strengths->weakest, weakest_share(shape, 40), 1e-9);
    EXPECT_EQ(a.verdict, Verdict::treat) << "it is decay still";
}

TEST(shell_rot, part_of_the_circle_without_a_depth_has_a_size_missing) {
    const Assessed a = PoleCase{}.original(40).present(39).with(shell_rot().width(5)).assess();
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_TRUE(a.reasons.has(Reason::pocket_size_missing));
}

TEST(shell_rot, part_of_the_circle_with_a_girth_and_no_depth_sets_the_girth) {
    const Assessed a = PoleCase{}.original(40).with(shell_rot().width(5).girth(38)).assess();
    EXPECT_EQ(a.verdict, Verdict::treat);
    EXPECT_NEAR(a.governing(), cubed(38.0 / 40.0), 1e-9);
}

TEST(shell_rot, that_leaves_no_wood_fails_with_a_finding) {
    const Assessed a = PoleCase{}.original(30).with(shell_rot().depth(5)).assess();
    EXPECT_EQ(a.governing(), 0.0);
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
    EXPECT_TRUE(a.reasons.has(Reason::geometry_impossible));
    EXPECT_TRUE(a.doubts(finding::kNoWoodLeft));
}

TEST(present_girth, of_several_in_one_section_the_least) {
    for (const double first : {36.0, 38.0}) {
        const Assessed a = PoleCase{}
                               .original(40)
                               .present(37)
                               .with(pocket(1, 1).girth(first))
                               .with(sound_bore().at(0.4).girth(74 - first))
                               .assess();
        EXPECT_NEAR(present_in(a), 36, 1e-12);
    }
    const Assessed a = PoleCase{}.original(40).present(36).with(pocket(1, 1).girth(38)).assess();
    EXPECT_NEAR(present_in(a), 36, 1e-12) << "the inspection's own counts among them";
}

TEST(present_girth, any_kind_of_defect_may_give_it) {
    for (const DefectCase& d : {pocket(1, 1), rot(4), shell_rot(), sound_bore()}) {
        const Assessed a = PoleCase{}.original(40).with(DefectCase{d}.girth(37)).assess();
        EXPECT_NEAR(present_in(a), 37, 1e-12) << static_cast<int>(d.defect().kind);
    }
}

TEST(present_girth, below_the_groundline_it_has_shrunk_as_the_groundline_has) {
    const Assessed a =
        forty_foot().original(36).present(33).with(sound_pocket(1, 1).at(-2)).assess();
    const double original = 36 * taper(-2) / taper(0);
    EXPECT_NEAR(original_in(a, -2), original, 1e-9);
    EXPECT_NEAR(present_in(a, -2), original * 33 / 36, 1e-9);
}

TEST(present_girth, below_the_groundline_it_follows_an_original_that_was_raised) {
    // C0 at the groundline is 36 + 2 pi 0.5 by the shell rot removed there.
    const Assessed a = PoleCase{}
                           .original(36)
                           .present(36)
                           .with(shell_rot().depth(0.5))
                           .with(sound_pocket(1, 1).at(-2))
                           .assess();
    EXPECT_NEAR(original_in(a, -2), 36 + kTwoPi * 0.5, 1e-9);
    EXPECT_NEAR(present_in(a, -2), 36, 1e-9);
}

TEST(present_girth, below_the_groundline_it_is_missing_where_the_groundlines_is) {
    const Assessed a = forty_foot().original(36).with(sound_pocket(1, 1).at(-2)).assess();
    EXPECT_FALSE(a.section(-2).present.has_value());
    EXPECT_FALSE(a.section(-2).strengths.has_value());
    EXPECT_TRUE(a.section(-2).reasons.has(Reason::present_circumference_missing));
}

TEST(present_girth, its_own_girth_comes_first_below_the_groundline) {
    const Assessed a =
        forty_foot().original(36).present(33).with(pocket(1, 1).at(-2).girth(32)).assess();
    EXPECT_NEAR(present_in(a, -2), 32, 1e-12);
}

TEST(present_girth, above_the_groundline_it_is_the_original_where_no_shell_rot_is_recorded) {
    const Assessed a =
        forty_foot().original(36).present(33).with(sound_pocket(1, 1).at(10)).assess();
    EXPECT_NEAR(present_in(a, 10), 36 * taper(10) / taper(0), 1e-9);
    EXPECT_EQ(a.section(10).outcome, SectionOutcome::passes);
}

TEST(present_girth, above_the_groundline_it_is_missing_where_shell_rot_is_recorded) {
    const Assessed a = forty_foot().original(36).present(36).with(shell_rot().at(10)).assess();
    EXPECT_FALSE(a.section(10).present.has_value());
    EXPECT_FALSE(a.section(10).strengths.has_value());
    EXPECT_EQ(a.section(10).outcome, SectionOutcome::incomplete);
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_TRUE(a.reasons.has(Reason::present_circumference_missing));
}

TEST(present_girth, shell_rot_in_another_section_leaves_it_known) {
    const Assessed a = forty_foot()
                           .original(36)
                           .present(34)
                           .with(shell_rot())
                           .with(sound_pocket(1, 1).at(10))
                           .assess();
    EXPECT_EQ(a.section(10).outcome, SectionOutcome::passes);
}

TEST(present_girth, the_original_stands_for_it_where_it_was_bored_or_excavated) {
    struct Row {
        InspectionMethod method;
        bool stands;
    };
    for (const Row& r : {Row{InspectionMethod::not_recorded, false},
                         Row{InspectionMethod::visual, false},
                         Row{InspectionMethod::hammer, false},
                         Row{InspectionMethod::bore, true},
                         Row{InspectionMethod::excavated, true}}) {
        const Assessed a = PoleCase{}.original(40).method(r.method).assess();
        EXPECT_EQ(a.verdict, r.stands ? Verdict::serviceable : Verdict::unassessed);
        EXPECT_EQ(a.codes(), r.stands ? "" : "present_circumference_missing");
        EXPECT_EQ(a.groundline().present.has_value(), r.stands);
    }
}

TEST(present_girth, the_original_does_not_stand_for_it_where_shell_rot_is_recorded) {
    for (const DefectCase& d : {shell_rot(), shell_rot().width(3).depth(1), shell_rot().at(8)}) {
        const Assessed a = PoleCase{}.original(40).excavated().with(d).assess();
        EXPECT_EQ(a.groundline().outcome, SectionOutcome::incomplete);
        EXPECT_TRUE(a.reasons.has(Reason::present_circumference_missing));
    }
}

}  // namespace
}  // namespace linewood::test
