// "No direction recorded": where a pocket goes that nobody placed.

#include <algorithm>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/expected_strength.hpp"
#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

constexpr double kGirth = 40;

PoleCase sound_girth() { return PoleCase{}.original(kGirth).present(kGirth); }

/// The least share under load from `load` of a pocket moved by whole degrees over a range, beside
/// what is there.
double least_over(int from, int to, SectionShape shape, Cut cut, double load) {
    shape.pockets.push_back({Bearing{}, Length::inches(cut.width), Length::inches(cut.depth)});
    double least = 2.0;
    for (int azimuth = from; azimuth <= to; ++azimuth) {
        shape.pockets.back().azimuth = Bearing::degrees(azimuth);
        least = std::min(least, share_from(load, shape, kGirth));
    }
    return least;
}

double placed_at(const Assessed& a, std::size_t i) {
    return a.groundline().shape.pockets[i].azimuth.degrees();
}

TEST(placement, without_a_direction_the_worst_of_all) {
    for (const double axis : {0.0, 33.3}) {
        const Assessed a = sound_girth().axis(axis).with(pocket(4, 2)).assess();
        const double worst = least_over(0, 359, shape_in(kGirth, {}), {0, 4, 2}, 90);
        EXPECT_NEAR(a.governing(), worst, 1e-9) << "from an axis of " << axis;
        EXPECT_LE(a.governing(),
                  share_from(axis + 90, shape_in(kGirth, {{axis + 90, 4, 2}}), kGirth) + 1e-12);
    }
}

TEST(placement, with_a_position_the_worst_of_its_sector) {
    struct Row {
        FacePosition position;
        int from, to;              // one half; the other is its mirror
        double nearest, farthest;  // off the axis
    };
    for (const Row& r : {Row{FacePosition::in_line, -30, 30, 0, 30},
                         Row{FacePosition::oblique, 30, 60, 30, 60},
                         Row{FacePosition::out_of_line, 60, 120, 60, 90}}) {
        const Assessed a = sound_girth().with(pocket(4, 2).position(r.position)).assess();
        EXPECT_NEAR(
            a.governing(), least_over(r.from, r.to, shape_in(kGirth, {}), {0, 4, 2}, 90), 1e-9);
        const auto off = angle_off(Bearing::degrees(placed_at(a, 0)), Axis::degrees(0)).degrees();
        EXPECT_GE(off, r.nearest - 1e-9);
        EXPECT_LE(off, r.farthest + 1e-9);
    }
}

TEST(placement, edges_of_the_sector_are_included) {
    // Across a line that runs north an in-line pocket is worst at the edge of its sector.
    const Assessed a = sound_girth().with(pocket(4, 2).position(FacePosition::in_line)).assess();
    EXPECT_NEAR(angle_off(Bearing::degrees(placed_at(a, 0)), Axis::degrees(0)).degrees(), 30, 1e-9);
    EXPECT_NEAR(a.governing(), share_from(90, shape_in(kGirth, {{30, 4, 2}}), kGirth), 1e-9);
}

TEST(placement, a_recorded_azimuth_is_kept) {
    const Assessed a = sound_girth().with(pocket(4, 2).toward(10)).assess();
    EXPECT_NEAR(placed_at(a, 0), 10, 1e-12);
    EXPECT_NEAR(a.governing(), share_from(90, shape_in(kGirth, {{10, 4, 2}}), kGirth), 1e-9);
}

TEST(placement, it_goes_where_the_others_leave_least) {
    // A recorded pocket in the east: the open one must find its worst place beside it.
    const Assessed a = sound_girth().with(pocket(3, 2).toward(70)).with(pocket(4, 2)).assess();
    const double worst = least_over(0, 359, shape_in(kGirth, {{70, 3, 2}}), {0, 4, 2}, 90);
    EXPECT_NEAR(a.governing(), worst, 1e-9);
}

TEST(placement, beside_internal_rot_it_finds_the_thin_side) {
    const Assessed a = sound_girth()
                           .with(rot(2.2).toward(60))
                           .with(rot(5).toward(240))
                           .with(pocket(0.9, 1))
                           .assess();
    const double worst =
        least_over(0, 359, shape_in(kGirth, {}, {{60, 2.2}, {240, 5}}), {0, 0.9, 1}, 90);
    EXPECT_NEAR(a.governing(), worst, 1e-9);
}

TEST(placement, the_weakest_direction_where_that_governs) {
    const Assessed a =
        sound_girth().no_axis().with(pocket(3, 2).toward(0)).with(pocket(4, 2)).assess();
    SectionShape shape = shape_in(kGirth, {{0, 3, 2}, {0, 4, 2}});
    double least = 2.0;
    for (int azimuth = 0; azimuth < 360; ++azimuth) {
        shape.pockets[1].azimuth = Bearing::degrees(azimuth);
        least = std::min(least, weakest_share(shape, kGirth));
    }
    EXPECT_NEAR(a.governing(), least, 1e-9);
}

TEST(placement, without_an_axis_a_position_has_no_sector) {
    const Assessed with_position = sound_girth()
                                       .no_axis()
                                       .with(pocket(3, 2).toward(0))
                                       .with(pocket(4, 2).position(FacePosition::in_line))
                                       .assess();
    const Assessed without =
        sound_girth().no_axis().with(pocket(3, 2).toward(0)).with(pocket(4, 2)).assess();
    EXPECT_EQ(with_position.governing(), without.governing());
}

TEST(placement, of_several_the_largest_width_times_depth_goes_first) {
    // The larger is placed alone in the section, the smaller beside it.
    for (const bool larger_first : {true, false}) {
        PoleCase c = sound_girth();
        c.with(larger_first ? pocket(5, 2) : pocket(2, 3))
            .with(larger_first ? pocket(2, 3) : pocket(5, 2));
        const Assessed a = c.assess();
        const std::size_t larger = larger_first ? 0 : 1;
        const double first = placed_at(a, larger);
        EXPECT_NEAR(share_from(90, shape_in(kGirth, {{first, 5, 2}}), kGirth),
                    least_over(0, 359, shape_in(kGirth, {}), {0, 5, 2}, 90),
                    1e-9);
        EXPECT_NEAR(a.governing(),
                    least_over(0, 359, shape_in(kGirth, {{first, 5, 2}}), {0, 2, 3}, 90),
                    1e-9);
    }
}

TEST(placement, open_ones_come_after_all_that_are_placed) {
    const Assessed a = sound_girth().with(pocket(5, 2)).with(pocket(2, 3).toward(45)).assess();
    EXPECT_NEAR(
        a.governing(), least_over(0, 359, shape_in(kGirth, {{45, 2, 3}}), {0, 5, 2}, 90), 1e-9);
}

TEST(placement, the_order_of_the_pockets_does_not_matter) {
    const DefectCase pockets[] = {
        pocket(3, 2).toward(10.3), pocket(3, 1.9).toward(91.7), pocket(2, 1), pocket(1, 2)};
    PoleCase forward = sound_girth().no_axis();
    PoleCase backward = sound_girth().no_axis();
    for (int i = 0; i < 4; ++i) {
        forward.with(pockets[i]);
        backward.with(pockets[3 - i]);
    }
    EXPECT_NEAR(forward.assess().governing(), backward.assess().governing(), 1e-12);
}

TEST(placement, the_shell_behind_an_open_pocket_is_the_least_it_may_be) {
    // Across the line it is worst to the east, but the shell is thin to the north.
    const PoleCase rotten =
        PoleCase{}.original(60).present(60).with(rot(3.1).toward(0)).with(rot(7).toward(180));
    const auto behind = [&](const DefectCase& d) {
        return PoleCase{rotten}.with(d).assess().shells.back().shell.inches();
    };
    EXPECT_NEAR(behind(pocket(1.5, 1.5)), 3.1 - 1.5, 1e-9);
    EXPECT_NEAR(behind(pocket(1.5, 1.5).position(FacePosition::in_line)), 3.1 - 1.5, 1e-9);
    EXPECT_NEAR(behind(pocket(1.5, 1.5).position(FacePosition::out_of_line)),
                3.1 + (7 - 3.1) / 3 - 1.5,
                1e-9)
        << "at the edge of its sector, 60 degrees from north";
    EXPECT_NEAR(behind(pocket(1.5, 1.5).toward(90)), 3.1 + (7 - 3.1) / 2 - 1.5, 1e-9);
    EXPECT_NEAR(
        behind(pocket(1.5, 1.5).toward(0).position(FacePosition::out_of_line)), 3.1 - 1.5, 1e-9)
        << "the worse of azimuth and position";
}

TEST(placement, an_open_pocket_gives_no_pass_by_its_weakest_direction) {
    // Beside a wide pocket in line, the place worst across the line leaves 52 % in the weakest
    // direction; the place worst for the weakest direction leaves 47 %.
    const SectionShape one = shape_in(kGirth, {{0, 6, 3}});
    double least = 2.0;
    for (int azimuth = 0; azimuth < 360; ++azimuth) {
        const double a = azimuth;
        least = std::min(least, weakest_share(shape_in(kGirth, {{0, 6, 3}, {a, 4, 1.5}}), kGirth));
    }
    ASSERT_LT(least, 0.48);
    const Assessed a = sound_girth().with(pocket(6, 3).toward(0)).with(pocket(4, 1.5)).assess();
    EXPECT_NEAR(a.governing(), least_over(0, 359, one, {0, 4, 1.5}, 90), 1e-9);
    EXPECT_NEAR(a.weakest(), least, 1e-9);
    EXPECT_EQ(a.codes(), "confirm_above_groundline;decay_present;weakest_below_limit");
}

TEST(position_conflict, the_worse_of_the_two_is_used) {
    const double out = least_over(60, 120, shape_in(kGirth, {}), {0, 4, 2}, 90);
    const Assessed worse_position =
        sound_girth().with(pocket(4, 2).toward(0).position(FacePosition::out_of_line)).assess();
    EXPECT_NEAR(worse_position.governing(), out, 1e-9);
    const Assessed worse_azimuth =
        sound_girth().with(pocket(4, 2).toward(92).position(FacePosition::in_line)).assess();
    EXPECT_NEAR(
        worse_azimuth.governing(), share_from(90, shape_in(kGirth, {{92, 4, 2}}), kGirth), 1e-9);
}

TEST(position_conflict, is_a_finding_that_names_both) {
    const Assessed a =
        sound_girth().with(pocket(4, 2).toward(0).position(FacePosition::out_of_line)).assess();
    ASSERT_EQ(a.count(finding::kPositionConflict), 1);
    const Finding& f = a.findings.front();
    EXPECT_EQ(f.code, "position_conflict");
    EXPECT_EQ(f.layer, InputLayer::defects);
    EXPECT_EQ(f.feature, "1");
    EXPECT_EQ(f.value, "out_of_line");
    EXPECT_NE(f.message.find("in_line"), std::string::npos);
}

TEST(position_conflict, a_bore_whose_side_is_in_doubt_counts_all_round) {
    const auto bored = [](FacePosition position) {
        return sound_girth()
            .with(rot(2.5).toward(0).position(position))
            .with(rot(5).toward(90))
            .assess();
    };
    const Assessed a = bored(FacePosition::out_of_line);
    EXPECT_EQ(a.count(finding::kPositionConflict), 1);
    EXPECT_NEAR(a.governing(), hollow_share(2.5, kGirth), 1e-9);
    const Assessed b = bored(FacePosition::in_line);
    EXPECT_EQ(b.count(finding::kPositionConflict), 0);
    EXPECT_GT(b.governing(), a.governing());
}

TEST(position_conflict, none_where_they_agree) {
    const Assessed a =
        sound_girth().with(pocket(4, 2).toward(100).position(FacePosition::out_of_line)).assess();
    EXPECT_TRUE(a.findings.empty());
    EXPECT_NEAR(placed_at(a, 0), 100, 1e-12);
}

TEST(position_conflict, none_at_the_edge_of_a_sector) {
    for (const double edge : {30.0, 150.0, 210.0, 330.0}) {
        const Assessed a =
            sound_girth().with(pocket(4, 2).toward(edge).position(FacePosition::in_line)).assess();
        EXPECT_TRUE(a.findings.empty()) << edge;
    }
}

TEST(position_conflict, none_without_an_axis) {
    const Assessed a = sound_girth()
                           .no_axis()
                           .with(pocket(4, 2).toward(0).position(FacePosition::out_of_line))
                           .assess();
    EXPECT_TRUE(a.findings.empty());
    EXPECT_NEAR(placed_at(a, 0), 0, 1e-12);
}

}  // namespace
}  // namespace linewood::test
