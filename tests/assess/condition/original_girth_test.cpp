// C0: where it comes from, and how it runs with height.

#include "assess/condition/original_girth.hpp"

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Southern pine, 40 ft, class 4: 33.5 in at 6 ft from the butt, which is its groundline, and 21 in
/// at the tip 34 ft higher.
PoleCase forty_foot() { return PoleCase{}.listed("southern_pine", 40, "4"); }
double taper(double height_ft) { return 33.5 - height_ft * (33.5 - 21.0) / 34.0; }

double original_in(const Assessed& a) { return a.original->inches(); }
double original_in(const Assessed& a, double feet) { return a.section(feet).original->inches(); }

TEST(original_girth, measured_at_the_inspection_comes_first) {
    const Assessed a = forty_foot().recorded(38).original(40).present(33).assess();
    EXPECT_NEAR(original_in(a), 40, 1e-12);
    EXPECT_EQ(a.original_source, OriginalSource::measured);
}

TEST(original_girth, else_recorded_on_the_pole) {
    const Assessed a = forty_foot().recorded(38).present(33).assess();
    EXPECT_NEAR(original_in(a), 38, 1e-12);
    EXPECT_EQ(a.original_source, OriginalSource::recorded);
}

TEST(original_girth, else_from_the_class_tables) {
    const Assessed a = forty_foot().present(33).assess();
    EXPECT_NEAR(original_in(a), 33.5, 1e-12);
    EXPECT_EQ(a.original_source, OriginalSource::tables);
    EXPECT_TRUE(a.reasons.has(Reason::original_from_tables));
}

TEST(original_girth, else_it_is_not_known) {
    const Assessed a = PoleCase{}.present(33).assess();
    EXPECT_FALSE(a.original.has_value());
    EXPECT_EQ(a.original_source, OriginalSource::none);
    EXPECT_EQ(name_of(a.original_source), "");
}

TEST(original_girth, only_the_tables_give_the_reason_original_from_tables) {
    EXPECT_FALSE(
        forty_foot().recorded(34).present(34).assess().reasons.has(Reason::original_from_tables));
    EXPECT_FALSE(
        forty_foot().original(34).present(34).assess().reasons.has(Reason::original_from_tables));
}

TEST(original_girth, a_pole_never_inspected_has_one_from_its_record_or_the_tables) {
    EXPECT_NEAR(original_in(forty_foot().never_inspected().assess()), 33.5, 1e-12);
    EXPECT_NEAR(original_in(forty_foot().never_inspected().recorded(38).assess()), 38, 1e-12);
}

TEST(original_girth, sources_are_written_by_their_codes) {
    EXPECT_EQ(name_of(OriginalSource::measured), "measured");
    EXPECT_EQ(name_of(OriginalSource::recorded), "recorded");
    EXPECT_EQ(name_of(OriginalSource::tables), "tables");
    EXPECT_EQ(name_of(OriginalSource::present), "present");
    EXPECT_EQ(name_of(OriginalSource::measured_above), "measured_above");
}

TEST(original_girth, measured_elsewhere_is_carried_to_the_groundline_by_the_taper) {
    for (const double h : {5.0, -2.0, 30.0}) {
        const Assessed a = forty_foot().original(32).measured_at(h).present(30).assess();
        EXPECT_NEAR(original_in(a), 32 * taper(0) / taper(h), 1e-9) << h;
        EXPECT_EQ(a.original_source, OriginalSource::measured) << h;
    }
}

TEST(original_girth, at_another_height_it_is_the_taper_scaled_through_the_groundline) {
    const Assessed a = forty_foot()
                           .original(36)
                           .present(36)
                           .with(sound_pocket(1, 1).at(10))
                           .with(sound_pocket(1, 1).at(-3))
                           .assess();
    EXPECT_NEAR(original_in(a, 10), 36 * taper(10) / taper(0), 1e-9);
    EXPECT_NEAR(original_in(a, -3), 36 * taper(-3) / taper(0), 1e-9) << "straight on below";
}

TEST(original_girth, the_groundline_is_the_recorded_setting_depth_above_the_butt) {
    PoleCase c = forty_foot().present(32);
    c.pole.setting_depth = Length::feet(8);
    EXPECT_NEAR(original_in(c.assess()), taper(2), 1e-9) << "the table's 6 ft point is 2 ft below";
}

TEST(original_girth, a_length_within_half_a_foot_of_a_row_is_that_row) {
    for (const Length l : {Length::metres(12.2), Length::feet(39.5), Length::feet(40.5)}) {
        PoleCase c = forty_foot().present(33);
        c.pole.length = l;
        EXPECT_NEAR(original_in(c.assess()), 33.5, 1e-9) << l.feet();
    }
}

TEST(original_girth, a_length_without_a_row_gives_none_and_a_finding) {
    PoleCase c = forty_foot().present(33);
    c.pole.length = Length::feet(42);
    const Assessed a = c.assess();
    EXPECT_FALSE(a.original.has_value());
    EXPECT_TRUE(a.reasons.has(Reason::original_circumference_missing));
    ASSERT_EQ(a.count(finding::kNoTableLength), 1);
    EXPECT_EQ(a.findings.front().layer, InputLayer::poles);
    EXPECT_EQ(a.findings.front().field, "length");
    EXPECT_EQ(a.findings.front().value, "42");
}

TEST(original_girth, a_class_without_a_row_gives_none_and_a_finding) {
    const Assessed a = PoleCase{}.listed("southern_pine", 40, "10").present(20).assess();
    EXPECT_FALSE(a.original.has_value());
    ASSERT_EQ(a.count(finding::kNoTableClass), 1);
    EXPECT_EQ(a.findings.front().value, "10");
}

TEST(original_girth, no_table_is_missed_where_none_was_needed) {
    PoleCase c = forty_foot().original(36).present(33);
    c.pole.length = Length::feet(42);
    EXPECT_FALSE(c.assess().doubts(finding::kNoTableLength));
}

TEST(original_girth, without_a_row_the_average_taper_scales_only) {
    // Southern pine loses 0.25 in of girth a foot.
    PoleCase c =
        forty_foot().original(36).measured_at(4).present(36).with(sound_pocket(1, 1).at(10));
    c.pole.length = Length::feet(42);
    const Assessed a = c.assess();
    EXPECT_NEAR(original_in(a), 36 + 4 * 0.25, 1e-9);
    EXPECT_NEAR(original_in(a, 10), 37 - 10 * 0.25, 1e-9);
    EXPECT_EQ(a.original_source, OriginalSource::measured);
    EXPECT_FALSE(a.doubts(finding::kNoTaper));
}

TEST(original_girth, without_any_taper_a_girth_measured_elsewhere_is_used_uncarried) {
    const Assessed a = PoleCase{}.original(36).measured_at(5).present(36).assess();
    EXPECT_NEAR(original_in(a), 36, 1e-12);
    EXPECT_EQ(a.original_source, OriginalSource::measured_above);
    ASSERT_EQ(a.count(finding::kNoTaper), 1);
    EXPECT_EQ(a.findings.front().layer, InputLayer::inspections);
    EXPECT_EQ(a.findings.front().field, "original_height");
}

TEST(original_girth, without_any_taper_that_of_the_groundline_is_used_at_a_section_uncarried) {
    const Assessed a = PoleCase{}.original(36).present(36).with(sound_pocket(1, 1).at(10)).assess();
    EXPECT_NEAR(original_in(a, 10), 36, 1e-12);
    EXPECT_EQ(a.original_source, OriginalSource::measured);
    ASSERT_EQ(a.count(finding::kNoTaper), 1);
    EXPECT_EQ(a.findings.front().layer, InputLayer::poles);
    EXPECT_FALSE(PoleCase{}.original(36).present(36).assess().doubts(finding::kNoTaper));
}

TEST(original_girth, measured_at_height_zero_is_measured_at_the_groundline) {
    const Assessed a = PoleCase{}.original(36).measured_at(0).present(36).assess();
    EXPECT_EQ(a.original_source, OriginalSource::measured);
    EXPECT_TRUE(a.findings.empty());
}

TEST(original_girth, it_is_never_below_the_present_one) {
    const Assessed a = PoleCase{}.original(36).present(38).assess();
    EXPECT_NEAR(original_in(a), 38, 1e-12);
    EXPECT_EQ(a.governing(), 1.0);
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    ASSERT_EQ(a.count(finding::kOriginalBelow), 1);
    EXPECT_EQ(a.findings.front().field, "original_circumference");
}

TEST(original_girth, a_recorded_one_below_the_present_is_a_finding_on_the_pole) {
    const Assessed a = PoleCase{}.recorded(36).present(38).assess();
    ASSERT_EQ(a.count(finding::kOriginalBelow), 1);
    EXPECT_EQ(a.findings.front().layer, InputLayer::poles);
    EXPECT_EQ(a.findings.front().field, "recorded_circumference");
}

TEST(original_girth, a_pole_stouter_than_the_least_of_its_class_is_no_doubt) {
    const Assessed a = forty_foot().present(36).assess();
    EXPECT_NEAR(original_in(a), 36, 1e-12);
    EXPECT_TRUE(a.findings.empty());
}

TEST(original_girth, it_is_never_below_the_present_one_section_by_section) {
    const Assessed a =
        forty_foot().original(36).present(35).with(sound_pocket(1, 1).at(10).girth(40)).assess();
    EXPECT_NEAR(original_in(a), 36, 1e-12);
    EXPECT_NEAR(original_in(a, 10), 40, 1e-12);
}

TEST(original_girth, the_present_one_never_stands_for_it) {
    const Assessed a = PoleCase{}.present(36).excavated().assess();
    EXPECT_EQ(a.verdict, Verdict::unassessed);
    EXPECT_EQ(a.codes(), "original_circumference_missing");
}

TEST(original_girth, the_present_one_stands_for_it_where_the_criteria_say_so) {
    PoleCase c = PoleCase{}.present(36).excavated();
    c.criteria.present_stands_for_original = true;
    const Assessed a = c.assess();
    EXPECT_EQ(a.verdict, Verdict::serviceable);
    EXPECT_EQ(a.original_source, OriginalSource::present);
    EXPECT_NEAR(original_in(a), 36, 1e-12);
}

TEST(original_girth, any_other_source_comes_before_the_present_one) {
    PoleCase c = forty_foot().present(30);
    c.criteria.present_stands_for_original = true;
    EXPECT_EQ(c.assess().original_source, OriginalSource::tables);
}

}  // namespace
}  // namespace linewood::test
