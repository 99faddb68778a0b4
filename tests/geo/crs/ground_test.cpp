#include "geo/crs/ground.hpp"

#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace linewood {
namespace {

Ground grs80() { return Ground::geodesic(6378137.0, 1.0 / 298.257222101); }

struct Case {
    const char* what;
    Point from, to;
    double start_deg, end_deg, length_m;
};

// Computed with the program `geod` of PROJ 9.1.1: `geod +ellps=GRS80 -I -f %.9f -F %.6f`, its back
// azimuth turned by 180 degrees.
const std::vector<Case> kGeod{
    {"59 north", {10.0, 59.0}, {10.02, 59.01}, 45.887190931, 45.904335176, 1600.584336},
    {"70 north, across the 180th meridian",
     {179.9, 70.0},
     {-179.8, 70.05},
     63.869738112,
     64.151690744,
     12729.483538},
    {"over the pole", {10.0, 89.999}, {-170.0, 89.999}, 0.0, 180.0, 223.387959},
    {"near the pole", {0.0, 89.9}, {120.0, 89.95}, 19.106621655, 139.106583867, 14775.723720},
    {"south", {151.0, -33.5}, {151.001, -33.5}, 90.000275968, 89.999724032, 92.922544},
    {"a span", {-100.0, 45.0}, {-99.9995, 45.0}, 89.999823223, 90.000176777, 39.423418},
    {"a span to the south-west",
     {-94.0, 41.5},
     {-94.0003, 41.4997},
     216.935536259,
     216.935337474,
     41.684632},
    {"nearly antipodal", {0.0, 0.0}, {179.5, 0.0}, 55.966494725, 124.033505275, 19980861.908839},
};

TEST(Ground, agrees_with_geod) {
    const Ground ground = grs80();
    for (const Case& c : kGeod) {
        SCOPED_TRACE(c.what);
        const Course course = ground.course(c.from, c.to);
        EXPECT_LE(angle_between(course.start, Bearing::degrees(c.start_deg)).degrees(), 1e-8);
        EXPECT_LE(angle_between(course.end, Bearing::degrees(c.end_deg)).degrees(), 1e-8);
        EXPECT_NEAR(course.length_m, c.length_m, 1e-6);
    }
}

TEST(Ground, the_way_back_is_the_way_there_turned) {
    const Ground ground = grs80();
    for (const Case& c : kGeod) {
        SCOPED_TRACE(c.what);
        const Course there = ground.course(c.from, c.to);
        const Course back = ground.course(c.to, c.from);
        EXPECT_DOUBLE_EQ(there.length_m, back.length_m);
        EXPECT_LE(
            angle_between(there.end, Bearing::degrees(back.start.degrees() + 180.0)).degrees(),
            1e-9);
    }
}

TEST(Ground, a_full_turn_of_longitude_changes_nothing) {
    const Ground ground = grs80();
    const Course course = ground.course({179.9, 70.0}, {-179.8, 70.05});
    const Course turned = ground.course({179.9 - 360.0, 70.0}, {-179.8 + 360.0, 70.05});
    EXPECT_NEAR(course.length_m, turned.length_m, 1e-6);
    EXPECT_NEAR(course.start.degrees(), turned.start.degrees(), 1e-9);
}

TEST(Ground, coincident_points_give_nothing_but_zeros) {
    for (const Ground& ground : {grs80(), Ground::planar(0.3048)}) {
        const Course course = ground.course({-94.0, 41.5}, {-94.0, 41.5});
        EXPECT_EQ(course.length_m, 0.0);
        EXPECT_EQ(course.start.degrees(), 0.0);
        EXPECT_EQ(course.end.degrees(), 0.0);
    }
}

TEST(Ground, two_ellipsoids_in_turn_do_not_mix) {
    const Ground sphere = Ground::geodesic(6371000.0, 0.0);
    const Ground ellipsoid = grs80();
    const double before = ellipsoid.course({0.0, 0.0}, {1.0, 0.0}).length_m;
    // A degree of the equator of a sphere, by hand.
    EXPECT_NEAR(
        sphere.course({0.0, 0.0}, {1.0, 0.0}).length_m, 6371000.0 * std::acos(-1.0) / 180.0, 1e-6);
    EXPECT_EQ(ellipsoid.course({0.0, 0.0}, {1.0, 0.0}).length_m, before);
}

TEST(Ground, plane_in_feet) {
    const Ground ground = Ground::planar(0.3048);
    const Course course = ground.course({100.0, 100.0}, {130.0, 60.0});
    EXPECT_NEAR(course.length_m, 50.0 * 0.3048, 1e-12);
    // 3-4-5 triangle: south-east, atan(30/40) from south.
    EXPECT_NEAR(course.start.degrees(), 180.0 - 36.86989764584402, 1e-12);
    EXPECT_EQ(course.start, course.end);
    EXPECT_TRUE(ground.is_planar());
}

TEST(Ground, scale_is_right_to_1e_4_within_100_m) {
    const Ground ground = grs80();
    for (const double latitude : {-84.9, -45.0, 0.0, 30.0, 61.0, 84.9}) {
        for (const double turn : {0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0}) {
            const Point at{25.0, latitude};
            const Ground::Scale scale = ground.scale_at(at);
            const double dx = 100.0 * std::sin(turn);
            const double dy = 100.0 * std::cos(turn);
            const Point to{at.x + dx / scale.x_m, at.y + dy / scale.y_m};
            EXPECT_NEAR(ground.course(at, to).length_m, 100.0, 100.0 * 1e-4)
                << latitude << " " << turn;
        }
    }
    EXPECT_EQ(Ground::planar(2.0).scale_at({5.0, 5.0}).x_m, 2.0);
    EXPECT_EQ(Ground::planar(2.0).scale_at({5.0, 5.0}).y_m, 2.0);
}

TEST(Ground, x_step_goes_the_short_way_round) {
    EXPECT_NEAR(grs80().x_step(179.9, -179.9), 0.2, 1e-12);
    EXPECT_NEAR(grs80().x_step(-179.9, 179.9), -0.2, 1e-12);
    EXPECT_NEAR(grs80().x_step(10.0, 9.0), -1.0, 1e-12);
    EXPECT_EQ(Ground::planar(1.0).x_step(1000.0, 3000.0), 2000.0);
}

}  // namespace
}  // namespace linewood
