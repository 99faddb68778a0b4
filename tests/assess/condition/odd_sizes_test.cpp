// Sizes that do not fit the pole: a finding, the section computed as far as the geometry allows,
// no pass, and no failure undone.

#include <numbers>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

const double kTwoPi = 2.0 * std::numbers::pi;

PoleCase girth(double inches) { return PoleCase{}.original(inches).present(inches); }

void expect_doubted(const Assessed& a, const FindingKind& kind) {
    EXPECT_EQ(a.count(kind), 1) << kind.code;
    EXPECT_TRUE(a.reasons.has(Reason::geometry_impossible));
    EXPECT_NE(a.verdict, Verdict::treat);
    EXPECT_NE(a.verdict, Verdict::serviceable);
}

TEST(odd_sizes, a_pocket_deeper_than_the_radius) {
    const Assessed a = girth(40).with(pocket(3, 7).toward(90)).assess();
    expect_doubted(a, finding::kPocketDeep);
    EXPECT_NEAR(a.governing(), share_from(90, shape_in(40, {{90, 3, 7}}), 40), 1e-9);
}

TEST(odd_sizes, a_pocket_as_deep_as_the_radius_fits) {
    EXPECT_FALSE(girth(kTwoPi * 7).with(pocket(3, 7 - 1e-9)).assess().doubts(finding::kPocketDeep));
}

TEST(odd_sizes, a_width_over_the_diameter) {
    const Assessed a = girth(40).with(pocket(13, 0.2).toward(0)).assess();
    expect_doubted(a, finding::kPocketWide);
    EXPECT_EQ(a.verdict, Verdict::unassessed) << "it fails no limit";
    EXPECT_TRUE(a.groundline().strengths.has_value());
    EXPECT_FALSE(girth(40).with(pocket(12.7, 0.2)).assess().doubts(finding::kPocketWide));
}

TEST(odd_sizes, a_shell_thicker_than_the_radius) {
    const Assessed a = girth(40).with(rot(8).toward(0)).assess();
    expect_doubted(a, finding::kShellThick);
    EXPECT_NEAR(a.governing(), 1.0, 1e-12) << "no void is left to draw";
    EXPECT_NEAR(a.shell_min->inches(), 40 / kTwoPi, 1e-9) << "the radius was used";
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_FALSE(girth(40).with(rot(6.3).toward(0)).assess().doubts(finding::kShellThick));
}

TEST(odd_sizes, a_girth_under_5_inches_or_over_120) {
    struct Row {
        double inches;
        bool doubted;
    };
    for (const Row& r : {Row{4.999, true}, Row{5, false}, Row{120, false}, Row{120.001, true}}) {
        const Assessed a = girth(r.inches).assess();
        EXPECT_EQ(a.reasons.has(Reason::geometry_impossible), r.doubted) << r.inches;
        EXPECT_EQ(a.verdict, r.doubted ? Verdict::unassessed : Verdict::serviceable) << r.inches;
        EXPECT_EQ(a.doubts(finding::kGirthDoubtful), r.doubted) << r.inches;
    }
}

TEST(odd_sizes, a_girth_far_above_the_original_one_lets_nothing_pass) {
    struct Row {
        double present;
        bool doubted;
    };
    for (const Row& r : {Row{40 * 1.5, false}, Row{40 * 1.5 + 0.01, true}, Row{101.6, true}}) {
        for (const PoleCase& c : {PoleCase{}.original(40), PoleCase{}.recorded(40)}) {
            const Assessed a = PoleCase{c}.present(r.present).assess();
            EXPECT_EQ(a.doubts(finding::kGirthDoubtful), r.doubted) << r.present;
            EXPECT_EQ(a.reasons.has(Reason::geometry_impossible), r.doubted) << r.present;
            EXPECT_EQ(a.verdict, r.doubted ? Verdict::unassessed : Verdict::serviceable);
        }
    }
    // The girth of a defect at its height, and one that fails all the same.
    expect_doubted(girth(40).with(sound_bore().at(9).girth(80)).assess(), finding::kGirthDoubtful);
    const Assessed failing = PoleCase{}.original(30).present(90).with(pocket(27, 13)).assess();
    expect_doubted(failing, finding::kGirthDoubtful);
    EXPECT_EQ(failing.verdict, Verdict::stub);
}

TEST(odd_sizes, a_girth_far_above_the_least_of_the_class_lets_nothing_pass) {
    const PoleCase of_class = PoleCase{}.listed("southern_pine", 40, "5");
    expect_doubted(PoleCase{of_class}.present(95).assess(), finding::kGirthDoubtful);
    const Assessed stout = PoleCase{of_class}.present(40).assess();
    EXPECT_FALSE(stout.doubts(finding::kGirthDoubtful));
    EXPECT_TRUE(stout.reasons.has(Reason::original_from_tables));
}

TEST(odd_sizes, a_girth_of_a_defect_is_asked_too) {
    const Assessed a = girth(40).with(shell_rot().at(9).girth(400)).assess();
    expect_doubted(a, finding::kGirthDoubtful);
}

TEST(odd_sizes, an_original_girth_is_asked_too) {
    for (const double inches : {3.0, 400.0}) {
        for (const PoleCase& c : {PoleCase{}.original(inches), PoleCase{}.recorded(inches)}) {
            const Assessed a = PoleCase{c}.present(40).assess();
            expect_doubted(a, finding::kGirthDoubtful);
        }
    }
    expect_doubted(PoleCase{}.recorded(0).excavated().assess(), finding::kGirthDoubtful);
}

TEST(odd_sizes, a_record_that_a_measurement_overrides_bars_no_pass) {
    const Assessed a = girth(40).recorded(400).assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    ASSERT_EQ(a.count(finding::kGirthDoubtful), 1);
    EXPECT_EQ(a.findings.front().layer, InputLayer::poles);
    EXPECT_EQ(a.findings.front().field, "recorded_circumference");
}

TEST(odd_sizes, the_height_of_the_original_girth_is_asked_too) {
    for (const double feet : {35.0, -7.0}) {
        const Assessed a = PoleCase{}
                               .listed("southern_pine", 40, "4")
                               .original(34)
                               .measured_at(feet)
                               .present(33)
                               .assess();
        EXPECT_EQ(a.count(finding::kHeightBeyond), 1) << feet;
        EXPECT_TRUE(a.reasons.has(Reason::geometry_impossible)) << feet;
        EXPECT_EQ(a.findings.front().field, "original_height");
    }
}

TEST(odd_sizes, a_height_above_the_tip_or_below_the_butt) {
    // A 40 ft pole stands 6 ft in the ground: its tip is at 34 ft.
    struct Row {
        double feet;
        bool doubted;
    };
    for (const Row& r : {Row{34, false}, Row{34.01, true}, Row{-6, false}, Row{-6.01, true}}) {
        const Assessed a = PoleCase{}
                               .listed("southern_pine", 40, "4")
                               .original(34)
                               .present(34)
                               .with(sound_pocket(0.5, 0.5).at(r.feet).toward(0))
                               .assess();
        EXPECT_EQ(a.count(finding::kHeightBeyond), r.doubted ? 1 : 0) << r.feet;
        EXPECT_EQ(a.verdict, r.doubted ? Verdict::unassessed : Verdict::serviceable) << r.feet;
    }
}

TEST(odd_sizes, they_change_no_failure) {
    const Assessed a = girth(40).with(pocket(6, 7).toward(90)).assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_EQ(a.groundline().outcome, SectionOutcome::fails);
    EXPECT_TRUE(a.reasons.has(Reason::strength_below_limit));
    EXPECT_TRUE(a.reasons.has(Reason::geometry_impossible));
}

TEST(odd_sizes, figures_of_a_section_that_does_not_fit_are_written) {
    EXPECT_TRUE(girth(130).assess().groundline().strengths.has_value());
}

}  // namespace
}  // namespace linewood::test
