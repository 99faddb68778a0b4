// "Several inspections": the latest is assessed, the rest is history.

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

PoleCase visited(const char* date) { return PoleCase{}.never_inspected().visit(date); }

int recovered(const PoleCase& c) { return c.assess().count(finding::kRecovered); }

TEST(history, the_latest_is_assessed) {
    const Assessed a = visited("2014-05-01")
                           .original(40)
                           .present(40)
                           .visit("2024-05-01")
                           .original(40)
                           .present(39)
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::treat);
    EXPECT_EQ(a.inspected_on, day("2024-05-01"));
}

TEST(history, girths_of_an_earlier_visit_are_not_used) {
    const Assessed a =
        visited("2014-05-01").original(40).present(40).visit("2024-05-01").present(38).assess();
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_TRUE(a.reasons.has(Reason::original_circumference_missing));
}

TEST(history, defects_of_an_earlier_visit_are_not_used) {
    const Assessed a = visited("2014-05-01")
                           .original(40)
                           .present(40)
                           .with(pocket(8, 5).toward(90).on("2014-05-01"))
                           .visit("2024-05-01")
                           .original(40)
                           .present(40)
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
}

TEST(history, undated_inspections_are_the_oldest) {
    PoleCase c = visited("2000-05-01").original(40).present(40);
    c.visit("2024-05-01").undated().original(40).present(30);
    const Assessed a = c.assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    EXPECT_EQ(a.inspected_on, day("2000-05-01"));
}

// It may be the latest: what fails in it hides behind no older good one, nor behind one that may be older.
TEST(history, an_inspection_whose_date_cannot_be_read_may_be_the_latest) {
    PoleCase bad = visited("2020-05-01").original(40).present(40);
    bad.visit("2024-05-01").day_unreadable().original(40).present(30);
    EXPECT_EQ(bad.assess().verdict, Verdict::stub);
    EXPECT_EQ(bad.assess().inspected_on, std::nullopt);

    PoleCase good = visited("2020-05-01").original(40).present(30);
    good.visit("2024-05-01").day_unreadable().original(40).present(40);
    EXPECT_EQ(good.assess().verdict, Verdict::stub);
    EXPECT_EQ(good.assess().inspected_on, day("2020-05-01"));

    good.visit("2022-05-01").original(40).present(40);
    EXPECT_EQ(good.assess().verdict, Verdict::serviceable);
    EXPECT_EQ(recovered(good), 1);
}

TEST(history, an_unreadable_date_counts_before_none) {
    PoleCase c = visited("2020-05-01").undated().original(40).present(30);
    c.visit("2024-05-01").day_unreadable().original(40).present(40);
    EXPECT_EQ(c.assess().verdict, Verdict::serviceable);
    EXPECT_EQ(recovered(c), 1);
}

TEST(same_day, the_worse_is_assessed) {
    struct Row {
        double worse, better;  // present girths of 40 in
        Verdict verdict;
    };
    for (const Row& r : {Row{30, 40, Verdict::stub},
                         Row{39, 40, Verdict::treat},
                         Row{38, 39, Verdict::treat},
                         Row{20, 32, Verdict::stub}}) {
        for (const bool worse_first : {true, false}) {
            const Assessed a = visited("2024-05-01")
                                   .original(40)
                                   .present(worse_first ? r.worse : r.better)
                                   .visit("2024-05-01")
                                   .original(40)
                                   .present(worse_first ? r.better : r.worse)
                                   .assess();
            EXPECT_EQ(a.verdict, r.verdict);
            EXPECT_NEAR(a.groundline().present->inches(), r.worse, 1e-12);
        }
    }
}

TEST(same_day, of_two_alike_the_order_read_does_not_matter) {
    PoleCase c = visited("2024-05-01").original(40).present(39).treated();
    c.visit("2024-05-01").original(40).present(39).damage(AbovegroundDamage::minor);
    PoleCase other = c;
    std::swap(other.visits[0], other.visits[1]);
    EXPECT_EQ(c.assess().codes(), "decay_present;minor_damage");
    EXPECT_EQ(other.assess().codes(), c.assess().codes());
}

// Strengths are capped at one, and the FID of a CSV row is its place in the file.
TEST(same_day, of_two_as_strong_the_one_stouter_once_counts_in_any_order) {
    for (const bool stouter_first : {true, false}) {
        PoleCase c = visited("2024-05-01").original(stouter_first ? 47 : 45).present(50);
        c.visit("2024-05-01").original(stouter_first ? 45 : 47).present(50);
        EXPECT_NEAR(c.assess().original->inches(), 50.0, 1e-9);
        c.visits[0].present_circumference = c.visits[0].original_circumference;
        c.visits[1].present_circumference = c.visits[1].original_circumference;
        EXPECT_NEAR(c.assess().original->inches(), 47.0, 1e-9) << stouter_first;
    }
}

TEST(same_day, unassessed_is_worse_than_a_pass_and_better_than_a_failure) {
    for (const double present : {40.0, 30.0}) {
        const Assessed a = visited("2024-05-01")
                               .original(40)
                               .visit("2024-05-01")
                               .original(40)
                               .present(present)
                               .assess();
        EXPECT_EQ(a.verdict, present == 40.0 ? Verdict::unassessed : Verdict::stub);
    }
}

TEST(same_day, undated_ones_are_of_one_day) {
    PoleCase c = PoleCase{}.undated().original(40).present(40);
    c.visit("2024-05-01").undated().original(40).present(30);
    c.visit("2024-05-01").undated().original(40).present(40);
    EXPECT_EQ(c.assess().verdict, Verdict::stub);
}

TEST(same_day, doubts_about_each_are_told_once) {
    for (const double second : {30.0, 38.5}) {
        const Assessed a = visited("2024-05-01")
                               .original(36)
                               .present(38)
                               .with(pocket(4, 2).toward(0).position(FacePosition::out_of_line))
                               .visit("2024-05-01")
                               .original(36)
                               .present(second)
                               .assess();
        EXPECT_EQ(a.count(finding::kOriginalBelow), second > 36 ? 2 : 1);
        EXPECT_EQ(a.count(finding::kPositionConflict), 1);
    }
}

TEST(history, doubts_about_the_pole_are_told_once) {
    PoleCase c = visited("2014-05-01").present(30).visit("2024-05-01").present(30);
    c.listed("southern_pine", 42, "4");
    EXPECT_EQ(c.assess().count(finding::kNoTableLength), 1);
}

TEST(recovered, a_failed_section_seen_earlier_and_not_in_the_latest) {
    const PoleCase c =
        visited("2014-05-01").original(40).present(30).visit("2024-05-01").original(40).present(40);
    EXPECT_EQ(recovered(c), 1);
    const Assessed a = c.assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable) << "a finding, not a verdict";
    EXPECT_EQ(a.findings.front().layer, InputLayer::inspections);
    EXPECT_EQ(a.findings.front().feature, "1") << "the earlier one";
}

TEST(recovered, a_failed_section_above_the_zone) {
    EXPECT_EQ(recovered(visited("2014-05-01")
                            .original(40)
                            .present(40)
                            .with(pocket(8, 5).at(10).toward(90).on("2014-05-01"))
                            .visit("2024-05-01")
                            .original(40)
                            .present(30)),
              1)
        << "though the zone fails now";
}

TEST(recovered, none_where_it_fails_still) {
    EXPECT_EQ(recovered(visited("2014-05-01")
                            .original(40)
                            .present(31)
                            .visit("2024-05-01")
                            .original(40)
                            .present(30)),
              0);
}

TEST(recovered, even_where_the_latest_measured_nothing) {
    EXPECT_EQ(recovered(visited("2014-05-01").original(40).present(30).visit("2024-05-01")), 1);
}

TEST(recovered, extensive_damage_seen_earlier_and_not_in_the_latest) {
    const PoleCase earlier =
        visited("2014-05-01").original(40).present(40).damage(AbovegroundDamage::extensive);
    for (const auto now :
         {AbovegroundDamage::not_recorded, AbovegroundDamage::none, AbovegroundDamage::minor}) {
        EXPECT_EQ(recovered(PoleCase{earlier}.visit("2024-05-01").damage(now)), 1);
    }
    EXPECT_EQ(recovered(PoleCase{earlier}.visit("2024-05-01").damage(AbovegroundDamage::extensive)),
              0);
    EXPECT_EQ(recovered(visited("2014-05-01")
                            .damage(AbovegroundDamage::minor)
                            .visit("2024-05-01")
                            .damage(AbovegroundDamage::none)),
              0)
        << "minor damage may have been mended";
}

TEST(recovered, worse_than_before_is_nothing_to_report) {
    EXPECT_EQ(recovered(visited("2014-05-01")
                            .original(40)
                            .present(40)
                            .visit("2024-05-01")
                            .original(40)
                            .present(30)),
              0);
}

TEST(history, shells_of_earlier_visits_are_given_too) {
    const Assessed a = visited("2014-05-01")
                           .original(40)
                           .present(40)
                           .with(rot(4).toward(0).on("2014-05-01"))
                           .visit("2024-05-01")
                           .original(40)
                           .present(40)
                           .with(rot(3).toward(0).on("2024-05-01"))
                           .assess();
    ASSERT_EQ(a.shells.size(), 2U);
    EXPECT_NEAR(a.shell_min->inches(), 3, 1e-12) << "of the visit assessed";
}

TEST(history, a_dated_defect_newer_than_all_is_the_inspection_assessed) {
    const Assessed a = visited("2014-05-01")
                           .recorded(40)
                           .present(40)
                           .with(pocket(8, 5).toward(90).on("2024-05-01"))
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::stub);
    EXPECT_EQ(a.inspected_on, day("2024-05-01"));
    EXPECT_TRUE(a.reasons.has(Reason::present_circumference_missing));
}

TEST(history, defects_that_join_no_inspection_count_for_nothing) {
    const Assessed a = visited("2024-05-01")
                           .original(40)
                           .present(40)
                           .with(pocket(8, 5).toward(90).on("2010-01-01"))
                           .assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    EXPECT_EQ(a.count(finding::kDefectUnjoined), 1);
}

}  // namespace
}  // namespace linewood::test
