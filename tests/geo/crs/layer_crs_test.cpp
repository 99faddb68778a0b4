#include "geo/crs/layer_crs.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <string>
#include <string_view>
#include <thread>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace linewood {
namespace {

constexpr double kRadians = 0.017453292519943295;

void expect_near(Point a, Point b, double tolerance) {
    EXPECT_NEAR(a.x, b.x, tolerance);
    EXPECT_NEAR(a.y, b.y, tolerance);
}

TEST(LayerCrs, x_is_east_whatever_the_authority_writes_first) {
    // On the central meridian the easting is the false easting, by definition of the projection.
    const LayerCrs finland = LayerCrs::from_wkt("EPSG:2393");  // written northing, easting
    EXPECT_NEAR(finland.from_ground({27.0, 61.0}).x, 3500000.0, 1e-6);
    // False origin of EPSG:3035, written northing, easting: 52 N 10 E.
    expect_near(
        LayerCrs::from_wkt("EPSG:3035").from_ground({10.0, 52.0}), {4321000.0, 3210000.0}, 1e-6);
    const LayerCrs wgs84 = LayerCrs::from_wkt("EPSG:4326");  // written latitude, longitude
    EXPECT_EQ(wgs84.to_ground({10.5, 61.0}), (Point{10.5, 61.0}));
    EXPECT_EQ(wgs84.from_ground({10.5, 61.0}), (Point{10.5, 61.0}));
    std::vector<Point> point{{10.5, 61.0}};
    wgs84.to_wgs84(point);
    expect_near(point[0], {10.5, 61.0}, 1e-9);
}

TEST(LayerCrs, round_trips) {
    struct Case {
        const char* code;
        Point lonlat;
    };
    for (const auto& [code, lonlat] : std::vector<Case>{{"EPSG:32615", {-94.0, 41.5}},
                                                        {"EPSG:26915", {-90.1, 41.5}},
                                                        {"EPSG:25833", {10.466, 61.115}},
                                                        {"EPSG:2263", {-73.9, 40.7}},
                                                        {"EPSG:2393", {26.5, 62.0}},
                                                        {"EPSG:3035", {10.466, 61.115}},
                                                        {"EPSG:2053", {29.3, -26.0}},
                                                        {"EPSG:27571", {2.6, 49.2}},
                                                        {"EPSG:4807", {2.6, 49.2}},
                                                        {"EPSG:3031", {70.0, -75.0}},
                                                        {"EPSG:32661", {70.0, 86.0}},
                                                        {"EPSG:3857", {-179.9, 70.0}}}) {
        SCOPED_TRACE(code);
        const LayerCrs crs = LayerCrs::from_wkt(code);
        EXPECT_EQ(crs.name(), code);
        EXPECT_TRUE(crs.known());
        const Point layer = crs.from_ground(lonlat);
        // PROJ's equal-area inverse is a series good to a fifth of a millimetre.
        const bool equal_area = std::string_view(code) == "EPSG:3035";
        expect_near(crs.to_ground(layer), lonlat, equal_area ? 1e-8 : 1e-10);
        expect_near(crs.from_ground(crs.to_ground(layer)), layer, equal_area ? 1e-3 : 1e-6);
    }
}

TEST(LayerCrs, us_survey_feet_are_its_metre_twin_scaled) {
    // EPSG:2263 and EPSG:32118 are one projection of New York in US survey feet (1200/3937 m) and in
    // metres, with the same false origin.
    const LayerCrs feet = LayerCrs::from_wkt("EPSG:2263");
    const LayerCrs metres = LayerCrs::from_wkt("EPSG:32118");
    const Point in_metres = metres.from_ground({-73.9, 40.7});
    expect_near(feet.from_ground({-73.9, 40.7}),
                {in_metres.x * 3937.0 / 1200.0, in_metres.y * 3937.0 / 1200.0},
                1e-5);
}

TEST(LayerCrs, convergence_of_utm_33_at_lillehammer_by_the_closed_series) {
    // Convergence of the transverse Mercator, series in the longitude from the central meridian
    // (Redfearn 1948; terms as commonly printed, typed from memory):
    // w sin(p) [1 + w^2 cos^2(p) (1 + 3 n + 2 n^2) / 3 + w^4 cos^4(p) (2 - t^2) / 15].
    const Point lillehammer{10.466, 61.115};
    const double p = lillehammer.y * kRadians;
    const double w = (lillehammer.x - 15.0) * kRadians;
    const double f = 1.0 / 298.257223563;
    const double e2 = f * (2.0 - f);
    const double c2 = std::cos(p) * std::cos(p);
    const double n = e2 / (1.0 - e2) * c2;
    const double t2 = std::tan(p) * std::tan(p);
    const double expected = w * std::sin(p) *
                            (1.0 + w * w * c2 * (1.0 + 3.0 * n + 2.0 * n * n) / 3.0 +
                             w * w * w * w * c2 * c2 * (2.0 - t2) / 15.0);
    const LayerCrs utm = LayerCrs::from_wkt("EPSG:32633");
    EXPECT_NEAR(utm.convergence(lillehammer).degrees(), expected / kRadians, 1e-7);
    EXPECT_NEAR(utm.convergence(lillehammer).degrees(), -4.0, 0.05);
    EXPECT_NEAR(utm.convergence({15.0, 61.115}).degrees(), 0.0, 1e-7);
    EXPECT_GT(utm.convergence({16.0, 61.115}).degrees(), 0.0);
    EXPECT_LT(utm.convergence({16.0, -61.115}).degrees(), 0.0);
}

TEST(LayerCrs, true_azimuth_is_grid_azimuth_and_convergence) {
    for (const auto& [code, lonlat] :
         std::vector<std::pair<const char*, Point>>{{"EPSG:32633", {10.466, 61.115}},
                                                    {"EPSG:2393", {25.0, 64.0}},
                                                    {"EPSG:32661", {70.0, 88.0}},
                                                    {"EPSG:3031", {70.0, -80.0}},
                                                    {"EPSG:3857", {-179.99999, 70.0}}}) {
        SCOPED_TRACE(code);
        const LayerCrs crs = LayerCrs::from_wkt(code);
        const Point at = crs.from_ground(lonlat);
        const Point to{at.x + 3.0, at.y + 4.0};
        const double grid = std::atan2(3.0, 4.0) / kRadians;
        const Course course = crs.ground().course(crs.to_ground(at), crs.to_ground(to));
        // All five are conformal (the Mercator of EPSG:3857 is not quite: on the sphere).
        const double tolerance = std::string_view(code) == "EPSG:3857" ? 0.1 : 1e-3;
        EXPECT_LE(
            angle_between(course.start, Bearing::degrees(grid + crs.convergence(lonlat).degrees()))
                .degrees(),
            tolerance);
    }
}

TEST(LayerCrs, axes_counted_west_and_south_keep_their_count) {
    const LayerCrs lo29 = LayerCrs::from_wkt("EPSG:2053");  // Westing, Southing
    const Point at = lo29.from_ground({29.3, -26.0});
    EXPECT_LT(at.x, 0.0);
    EXPECT_GT(at.y, 0.0);
    expect_near(lo29.to_ground(at), {29.3, -26.0}, 1e-10);
    // Its twin with axes east and north is EPSG:2053's projection with the signs turned; south of
    // the equator and east of the central meridian, grid north lies west of true north.
    EXPECT_NEAR(lo29.convergence({29.3, -26.0}).degrees(), 0.3 * std::sin(-26.0 * kRadians), 1e-4);
}

TEST(LayerCrs, southing_before_westing_has_the_grid_north_of_its_twin_east_and_north) {
    // Krovak: EPSG:5513 and EPSG:2065 are written southing, westing; EPSG:5514 and EPSG:5221 are the
    // same projections, from Greenwich and from Ferro, with axes east and north.
    const Point prague{14.42, 50.09};
    const double twin = LayerCrs::from_wkt("EPSG:5514").convergence(prague).degrees();
    const LayerCrs southing = LayerCrs::from_wkt("EPSG:5513");
    EXPECT_NEAR(southing.convergence(prague).degrees(), twin, 1e-6);
    EXPECT_NEAR(LayerCrs::from_wkt("EPSG:2065").convergence(prague).degrees(),
                LayerCrs::from_wkt("EPSG:5221").convergence(prague).degrees(),
                1e-6);
    // Azimuths by coordinates agree: a step north on the grid is a step back along the southing.
    const Point at = southing.from_ground(prague);
    const Course north = southing.ground().course(prague, southing.to_ground({at.x - 50.0, at.y}));
    EXPECT_LE(angle_between(north.start, Bearing::degrees(twin)).degrees(), 1e-3);
}

TEST(LayerCrs, angular_units_and_prime_meridians_other_than_degrees_of_greenwich) {
    // EPSG:4807: grads from Paris, 2 degrees 20 minutes 14.025 seconds east of Greenwich (the
    // registry holds it rounded to 1e-8 degrees).
    const LayerCrs paris = LayerCrs::from_wkt("EPSG:4807");
    EXPECT_TRUE(paris.geographic());
    expect_near(paris.to_ground({0.0, 50.0}), {2.0 + 20.0 / 60.0 + 14.025 / 3600.0, 45.0}, 1e-8);
    EXPECT_EQ(paris.convergence({2.0, 45.0}).degrees(), 0.0);
    expect_near(
        LayerCrs::from_wkt("EPSG:27571").from_ground({2.0 + 20.0 / 60.0 + 14.025 / 3600.0, 49.5}),
        {600000.0, 1200000.0},
        1e-3);
}

TEST(LayerCrs, no_datum_shift_on_the_way_to_the_ground) {
    const LayerCrs plain = LayerCrs::from_wkt("EPSG:31467");
    const LayerCrs bound = LayerCrs::from_wkt(
        "+proj=tmerc +lat_0=0 +lon_0=9 +k=1 +x_0=3500000 +y_0=0 +ellps=bessel "
        "+towgs84=598.1,73.7,418.2,0.202,0.045,-2.455,6.7 +units=m +no_defs +type=crs");
    const Point at{3579020.0, 6778481.0};
    expect_near(bound.to_ground(at), plain.to_ground(at), 1e-11);
    std::vector<Point> shifted{at};
    bound.to_wgs84(shifted);
    // The shift is there, and about as large as the datum's known 100 to 200 m.
    const double moved_m =
        LayerCrs::from_wkt("EPSG:4326").ground().course(bound.to_ground(at), shifted[0]).length_m;
    EXPECT_GT(moved_m, 50.0);
    EXPECT_LT(moved_m, 500.0);
}

TEST(LayerCrs, compound_and_3d_systems_give_their_horizontal_part) {
    const LayerCrs flat = LayerCrs::from_wkt("EPSG:25833");
    const LayerCrs compound = LayerCrs::from_wkt("EPSG:25833+5941");
    EXPECT_EQ(compound.name(), "EPSG:25833");
    expect_near(compound.from_ground({10.466, 61.115}), flat.from_ground({10.466, 61.115}), 1e-9);
    const LayerCrs solid = LayerCrs::from_wkt("EPSG:4937");
    EXPECT_TRUE(solid.geographic());
    EXPECT_EQ(solid.to_ground({10.466, 61.115}), (Point{10.466, 61.115}));
}

TEST(LayerCrs, a_rotated_pole_is_not_taken_for_longitude_and_latitude) {
    const LayerCrs rotated = LayerCrs::from_wkt(
        "+proj=ob_tran +o_proj=longlat +o_lon_p=0 +o_lat_p=40 +lon_0=10 +R=6371000 +type=crs");
    EXPECT_FALSE(rotated.geographic());
    // The rotated origin lies 90 - 40 degrees north on the central meridian.
    expect_near(rotated.to_ground({0.0, 0.0}), {10.0, 50.0}, 1e-9);
    const Point place{12.0, 51.0};
    const Point at = rotated.from_ground(place);
    const Point north = rotated.to_ground({at.x, at.y + 1e-3});
    EXPECT_NEAR(angle_between(rotated.ground().course(place, north).start,
                              Bearing::degrees(rotated.convergence(place).degrees()))
                    .degrees(),
                0.0,
                1e-3);
}

TEST(LayerCrs, ellipsoid_of_the_system) {
    // Bessel 1841: a = 6377397.155 m, 1/f = 299.1528128.
    const Ground bessel = LayerCrs::from_wkt("EPSG:31467").ground();
    const Ground same = Ground::geodesic(6377397.155, 1.0 / 299.1528128);
    EXPECT_NEAR(bessel.course({9.0, 50.0}, {9.1, 50.1}).length_m,
                same.course({9.0, 50.0}, {9.1, 50.1}).length_m,
                1e-6);
    EXPECT_FALSE(bessel.is_planar());
}

TEST(LayerCrs, points_the_projection_cannot_hold_become_nan) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    for (const char* code : {"EPSG:32615", "EPSG:4326", "EPSG:4267"}) {
        SCOPED_TRACE(code);
        const LayerCrs crs = LayerCrs::from_wkt(code);
        const Point good = crs.from_ground({-75.0, 41.0});
        std::vector<Point> points{good, {nan, 1.0}, {1.0, inf}, {1e12, 1e12}, good};
        crs.to_ground(points);
        expect_near(points[0], {-75.0, 41.0}, 1e-9);
        for (const std::size_t i : {1U, 2U, 3U}) {
            EXPECT_TRUE(std::isnan(points[i].x) && std::isnan(points[i].y)) << i;
        }
        expect_near(points[4], points[0], 0.0);
        EXPECT_TRUE(std::isnan(crs.from_ground({-75.0, 95.0}).x));
    }
    EXPECT_TRUE(std::isnan(LayerCrs::from_wkt("EPSG:32615").convergence({nan, 41.0}).degrees()));
}

TEST(LayerCrs, none_is_a_plane) {
    const LayerCrs none = LayerCrs::none(0.3048);
    EXPECT_FALSE(none.known());
    EXPECT_FALSE(none.geographic());
    EXPECT_EQ(none.name(), "none");
    EXPECT_TRUE(none.ground().is_planar());
    EXPECT_EQ(none.to_ground({1e6, 2e6}), (Point{1e6, 2e6}));
    EXPECT_EQ(none.from_ground({1e6, 2e6}), (Point{1e6, 2e6}));
    EXPECT_EQ(none.convergence({1e6, 2e6}).degrees(), 0.0);
}

TEST(LayerCrs, systems_without_a_geographic_base_are_refused_with_advice) {
    for (const std::string& text :
         {std::string("EPSG:5773"), std::string("no such thing"), std::string()}) {
        SCOPED_TRACE(text);
        try {
            LayerCrs::from_wkt(text);
            FAIL() << "expected CrsError";
        } catch (const CrsError& error) {
            EXPECT_THAT(error.what(), testing::HasSubstr("state the layer's coordinate system"));
        }
    }
}

TEST(LayerCrs, an_engineering_system_is_a_plane_in_its_own_unit) {
    const auto read = [](const std::string& unit) {
        return LayerCrs::from_wkt(R"(LOCAL_CS["site grid",LOCAL_DATUM["x",0],UNIT[)" + unit +
                                  R"(],AXIS["Easting",EAST],AXIS["Northing",NORTH]])");
    };
    const LayerCrs metres = read(R"("metre",1)");
    EXPECT_FALSE(metres.known());
    EXPECT_TRUE(metres.local());
    EXPECT_EQ(metres.name(), "site grid");
    EXPECT_TRUE(metres.ground().is_planar());
    EXPECT_NEAR(metres.ground().course({0, 0}, {0, 40}).length_m, 40.0, 1e-12);
    EXPECT_NEAR(read(R"("foot",0.3048)").ground().course({0, 0}, {0, 40}).length_m, 12.192, 1e-12);
    const LayerCrs wkt2 = LayerCrs::from_wkt(
        R"(ENGCRS["yard",EDATUM["here"],CS[Cartesian,2],AXIS["x",east],AXIS["y",north],LENGTHUNIT["US survey foot",0.304800609601219]])");
    EXPECT_NEAR(wkt2.ground().course({0, 0}, {1000, 0}).length_m, 304.800609601219, 1e-9);
    EXPECT_FALSE(LayerCrs::none(1.0).local());
}

TEST(LayerCrs, a_geocentric_system_is_refused_with_a_way_out) {
    try {
        LayerCrs::from_wkt("EPSG:4978");
        FAIL() << "expected GeocentricCrs";
    } catch (const GeocentricCrs& error) {
        EXPECT_THAT(error.what(), testing::HasSubstr("EPSG:4978"));
        EXPECT_THAT(error.what(), testing::HasSubstr("ogr2ogr -t_srs"));
    }
}

TEST(LayerCrs, a_system_without_a_code_is_recognised_or_named) {
    // WKT as files hold it: no authority code on the projected system.
    const std::string wkt =
        R"(PROJCS["NAD83 / UTM zone 15N",GEOGCS["NAD83",DATUM["North_American_Datum_1983",SPHEROID["GRS 1980",6378137,298.257222101]],PRIMEM["Greenwich",0],UNIT["degree",0.0174532925199433]],PROJECTION["Transverse_Mercator"],PARAMETER["latitude_of_origin",0],PARAMETER["central_meridian",-93],PARAMETER["scale_factor",0.9996],PARAMETER["false_easting",500000],PARAMETER["false_northing",0],UNIT["metre",1]])";
    EXPECT_EQ(LayerCrs::from_wkt(wkt).name(), "EPSG:26915");
    std::string own = wkt;
    own.replace(own.find("500000"), 6, "500123");
    own.replace(own.find("NAD83 / UTM zone 15N"), 20, "Our own grid");
    EXPECT_EQ(LayerCrs::from_wkt(own).name(), "Our own grid");
}

TEST(LayerCrs, one_object_a_thread) {
    const Point expected = LayerCrs::from_wkt("EPSG:32633").to_ground({255797.9665, 6784063.3498});
    std::array<Point, 4> found{};
    std::vector<std::thread> threads;
    threads.reserve(found.size());
    for (Point& mine : found) {
        threads.emplace_back([&mine] {
            const LayerCrs crs = LayerCrs::from_wkt("EPSG:32633");
            std::vector<Point> points(1000, Point{255797.9665, 6784063.3498});
            crs.to_ground(points);
            mine = points.back();
        });
    }
    for (std::thread& thread : threads) {
        thread.join();
    }
    for (const Point& p : found) {
        EXPECT_EQ(p, expected);
    }
}

TEST(LayerCrs, moves) {
    LayerCrs a = LayerCrs::from_wkt("EPSG:32633");
    const Point before = a.from_ground({15.0, 61.0});
    LayerCrs b = std::move(a);
    EXPECT_EQ(b.from_ground({15.0, 61.0}), before);
    b = LayerCrs::none(1.0);
    EXPECT_FALSE(b.known());
}

}  // namespace
}  // namespace linewood
