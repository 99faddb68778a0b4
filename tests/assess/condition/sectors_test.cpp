#include "assess/condition/sectors.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace linewood::test {
namespace {

FacePosition sector(double azimuth, double axis) {
    return sector_of(Bearing::degrees(azimuth), Axis::degrees(axis), Criteria{});
}

TEST(sectors, within_30_degrees_of_the_axis_is_in_line_either_way) {
    for (const double azimuth : {0.0, 30.0, 330.0, 150.0, 180.0, 210.0}) {
        EXPECT_EQ(sector(azimuth, 0), FacePosition::in_line) << azimuth;
    }
}

TEST(sectors, within_30_degrees_of_the_perpendicular_is_out_of_line) {
    for (const double azimuth : {60.0, 90.0, 120.0, 240.0, 270.0, 300.0}) {
        EXPECT_EQ(sector(azimuth, 0), FacePosition::out_of_line) << azimuth;
    }
}

TEST(sectors, the_rest_is_oblique) {
    for (const double azimuth : {30.001, 45.0, 59.999, 120.001, 149.999, 225.0, 329.0}) {
        EXPECT_EQ(sector(azimuth, 0), FacePosition::oblique) << azimuth;
    }
}

TEST(sectors, they_turn_with_the_axis_and_wrap) {
    EXPECT_EQ(sector(350, 170), FacePosition::in_line);
    EXPECT_EQ(sector(20, 170), FacePosition::in_line);
    EXPECT_EQ(sector(21, 170), FacePosition::oblique);
    EXPECT_EQ(sector(80, 170), FacePosition::out_of_line);
}

TEST(sectors, their_widths_are_settings) {
    Criteria c;
    c.in_line_sector = Angle::degrees(45);
    c.out_of_line_sector = Angle::degrees(20);
    const Axis north = Axis::degrees(0);
    EXPECT_EQ(sector_of(Bearing::degrees(45), north, c), FacePosition::in_line);
    EXPECT_EQ(sector_of(Bearing::degrees(69), north, c), FacePosition::oblique);
    EXPECT_EQ(sector_of(Bearing::degrees(70), north, c), FacePosition::out_of_line);
}

TEST(sectors, an_edge_belongs_to_both_of_its_sectors_where_a_record_is_judged) {
    const Criteria c;
    const auto in = [&](double azimuth, FacePosition position) {
        return is_in_sector(Bearing::degrees(azimuth), Axis::degrees(12.34), position, c);
    };
    for (const double edge : {30.0, 150.0, 210.0, 330.0}) {
        const double off = edge < 90 || edge == 210 ? 1e-3 : -1e-3;  // away from the axis
        EXPECT_TRUE(in(12.34 + edge, FacePosition::oblique)) << edge;
        EXPECT_TRUE(in(12.34 + edge, FacePosition::in_line)) << edge;
        EXPECT_FALSE(in(12.34 + edge, FacePosition::out_of_line)) << edge;
        EXPECT_TRUE(in(12.34 + edge + off, FacePosition::oblique)) << edge;
        EXPECT_FALSE(in(12.34 + edge + off, FacePosition::in_line)) << edge;
        EXPECT_FALSE(in(12.34 + edge - off, FacePosition::oblique)) << edge;
    }
    for (const double edge : {60.0, 120.0, 240.0, 300.0}) {
        EXPECT_TRUE(in(12.34 + edge, FacePosition::oblique)) << edge;
        EXPECT_TRUE(in(12.34 + edge, FacePosition::out_of_line)) << edge;
        EXPECT_FALSE(in(12.34 + edge, FacePosition::in_line)) << edge;
    }
    EXPECT_FALSE(in(12.34 + 90.0, FacePosition::oblique));
    EXPECT_FALSE(in(12.34, FacePosition::oblique));
}

bool holds(const std::vector<Bearing>& all, double azimuth) {
    return std::any_of(all.begin(), all.end(), [&](Bearing b) {
        return angle_between(b, Bearing::degrees(azimuth)).degrees() < 1e-9;
    });
}

struct SectorRow {
    FacePosition position;
    std::vector<double> edges;
    std::size_t count;
};

/// Each edge is there, and of its two neighbours a degree away the one within.
void expect_edges(const SectorRow& r, double axis) {
    const auto all = directions_of(r.position, Axis::degrees(axis), Criteria{});
    EXPECT_EQ(all.size(), r.count);
    for (const double edge : r.edges) {
        EXPECT_TRUE(holds(all, edge + axis)) << edge;
        for (const double next : {edge + axis - 1, edge + axis + 1}) {
            EXPECT_EQ(holds(all, next), sector(next, axis) == r.position) << next;
        }
    }
}

TEST(sectors, directions_of_a_sector_are_steps_of_a_degree_with_both_edges) {
    const SectorRow rows[] = {
        {FacePosition::in_line, {330, 30, 150, 210}, 122},
        {FacePosition::out_of_line, {60, 120, 240, 300}, 122},
        {FacePosition::oblique, {30, 60, 120, 150, 210, 240, 300, 330}, 124},
    };
    for (const SectorRow& r : rows) {
        for (const double axis : {0.0, 12.5, 179.0}) {
            SCOPED_TRACE(std::string{name_of(r.position)} + ", axis " + std::to_string(axis));
            expect_edges(r, axis);
        }
    }
}

TEST(sectors, edges_are_included_where_the_width_is_no_whole_degree) {
    Criteria c;
    c.in_line_sector = Angle::degrees(10.25);
    const auto all = directions_of(FacePosition::in_line, Axis::degrees(0), c);
    EXPECT_TRUE(holds(all, -10.25));
    EXPECT_TRUE(holds(all, 10.25));
    EXPECT_FALSE(holds(all, 10.75));
}

TEST(sectors, all_directions_are_360) {
    const auto all = all_directions(33.5);
    EXPECT_EQ(all.size(), 360U);
    EXPECT_TRUE(holds(all, 33.5));
    EXPECT_TRUE(holds(all, 32.5));
}

}  // namespace
}  // namespace linewood::test
