#include "src/pipeline/packed_record.hpp"

#include <vector>

#include <gtest/gtest.h>

#include "src/pipeline/visit_store.hpp"

namespace linewood {
namespace {

void expect_same(const Inspection& a, const Inspection& b) {
    EXPECT_EQ(a.fid, b.fid);
    EXPECT_EQ(a.original_circumference, b.original_circumference);
    EXPECT_EQ(a.original_height, b.original_height);
    EXPECT_EQ(a.present_circumference, b.present_circumference);
    EXPECT_EQ(a.inspected_on, b.inspected_on);
    EXPECT_EQ(a.method, b.method);
    EXPECT_EQ(a.damage, b.damage);
    EXPECT_EQ(a.climb_safe, b.climb_safe);
    EXPECT_EQ(a.decay_below_excavation, b.decay_below_excavation);
    EXPECT_EQ(a.treated, b.treated);
    EXPECT_EQ(a.unreadable, b.unreadable);
    EXPECT_EQ(a.date_unreadable, b.date_unreadable);
}

void expect_same(const Defect& a, const Defect& b) {
    EXPECT_EQ(a.fid, b.fid);
    EXPECT_EQ(a.height, b.height);
    EXPECT_EQ(a.azimuth, b.azimuth);
    EXPECT_EQ(a.width, b.width);
    EXPECT_EQ(a.depth, b.depth);
    EXPECT_EQ(a.extent, b.extent);
    EXPECT_EQ(a.shell_thickness, b.shell_thickness);
    EXPECT_EQ(a.bore_angle, b.bore_angle);
    EXPECT_EQ(a.present_circumference, b.present_circumference);
    EXPECT_EQ(a.inspected_on, b.inspected_on);
    EXPECT_EQ(a.kind, b.kind);
    EXPECT_EQ(a.cause, b.cause);
    EXPECT_EQ(a.position, b.position);
    EXPECT_EQ(a.bore_from, b.bore_from);
    EXPECT_EQ(a.unreadable, b.unreadable);
}

Inspection full_inspection() {
    Inspection i;
    i.fid = 9007199254740993;
    i.original_circumference = Length::inches(35.5);
    i.original_height = Length::feet(-0.1);
    i.present_circumference = Length::inches(0.1 + 0.2);
    i.inspected_on = Date::from_ymd(2025, 4, 7);
    i.method = InspectionMethod::excavated;
    i.damage = AbovegroundDamage::extensive;
    i.climb_safe = Answer::no;
    i.decay_below_excavation = Answer::yes;
    i.treated = Answer::no;
    i.unreadable = true;
    i.date_unreadable = true;
    return i;
}

Defect full_defect() {
    Defect d;
    d.fid = 7;
    d.height = Length::feet(1.1);
    d.azimuth = Bearing::degrees(359.9);
    d.width = Length::inches(3.3);
    d.depth = Length::inches(0.7);
    d.extent = Length::inches(12);
    d.shell_thickness = Length::inches(2.9);
    d.bore_angle = Angle::degrees(45);
    d.present_circumference = Length::inches(33);
    d.inspected_on = Date::from_ymd(1969, 12, 31);
    d.kind = DefectKind::internal_rot;
    d.cause = DefectCause::bolt_hole;
    d.position = FacePosition::oblique;
    d.bore_from = BoreFrom::pocket;
    d.unreadable = true;
    return d;
}

TEST(PackedByPole, GivesRecordsBackToTheLastBit) {
    Inspection one_number;
    one_number.present_circumference = Length::inches(40);
    InspectionStore inspections;
    inspections.add(1, full_inspection());
    inspections.add(0, one_number);
    inspections.add(1, Inspection{});
    inspections.finish(2);
    ASSERT_EQ(inspections.of(0).size(), 1U);
    ASSERT_EQ(inspections.of(1).size(), 2U);
    expect_same(inspections.of(0)[0], one_number);
    expect_same(inspections.of(1)[0], full_inspection());
    expect_same(inspections.of(1)[1], Inspection{});
    inspections.drop_rows();
    EXPECT_EQ(inspections.rows(), 3U);

    Defect some;
    some.azimuth = Bearing::degrees(0);
    some.present_circumference = Length::inches(31);
    DefectStore defects;
    defects.add(0, some);
    defects.add(7, full_defect());
    defects.add(0, full_defect());
    defects.finish(1);
    ASSERT_EQ(defects.of(0).size(), 2U);
    expect_same(defects.of(0)[0], some);
    expect_same(defects.at(defects.slot(2)), full_defect());
    EXPECT_EQ(defects.slot(1), DefectStore::kNowhere);
    EXPECT_EQ(defects.sorted_size(), 2U);
    EXPECT_EQ(defects.rows(), 3U);
}

}  // namespace
}  // namespace linewood
