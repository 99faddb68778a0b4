#include <cmath>
#include <string_view>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "geo/crs/layer_crs.hpp"
#include "geo/network/drawn_path.hpp"
#include "geo/network/layer_paths.hpp"
#include "geo/network/network_builder.hpp"

namespace linewood {
namespace {

/// A straight route in a projection with a pole every 50 m and a vertex at its two ends.
struct LongRoute {
    LayerCrs crs;
    std::vector<Point> in_layer;
    std::vector<Point> poles;
    LayerPaths::Path path;

    LongRoute(const char* code, Point begin, int spans) : crs{LayerCrs::from_wkt(code)} {
        const Point at = crs.from_ground(begin);
        for (int i = 0; i <= spans; ++i) {
            poles.push_back({at.x + 40.0 * i, at.y + 30.0 * i});
        }
        in_layer = {poles.front(), poles.back()};
        crs.to_ground(poles);
        path = paths().carry(in_layer);
    }
    LayerPaths paths() const {
        return {crs.ground(), [this](std::span<Point> points) { crs.to_ground(points); }, false};
    }
    Network solve() const {
        NetworkBuilder builder{crs.ground(), poles};
        const std::span<const Point> part{path.points};
        const std::span<const PathPlace> places{path.places};
        SpanFeature feature;
        feature.parts = {&part, 1};
        feature.places = {&places, 1};
        builder.add(feature);
        return builder.finish();
    }
};

TEST(LayerPaths, AStraightRouteInAProjectionKeepsAllItsPoles) {
    for (const auto& [code, begin] :
         std::vector<std::pair<const char*, Point>>{{"EPSG:32615", {-92.3, 41.5}},
                                                    {"EPSG:32633", {15.0, 70.0}},
                                                    {"EPSG:3857", {10.0, 61.0}},
                                                    {"EPSG:2263", {-73.9, 40.7}},
                                                    {"EPSG:32661", {70.0, 89.9}},
                                                    {"EPSG:3031", {179.99, -89.8}}}) {
        SCOPED_TRACE(code);
        const LongRoute route{code, begin, 200};
        const Network network = route.solve();
        ASSERT_EQ(network.spans().size(), 200U);
        const std::span<const Point> drawn{route.in_layer};
        for (std::size_t i = 0; i < 200; ++i) {
            const ResolvedSpan& span = network.spans()[i];
            EXPECT_EQ(span.from, i);
            EXPECT_EQ(span.to, i + 1);
            // The piece, cut from the two vertices drawn, ends at the poles.
            const std::vector<Point> piece =
                cut_path({&drawn, 1}, network.cuts()[span.path], Ground::planar(1.0));
            ASSERT_EQ(piece.size(), 2U);
            const Point end = route.crs.to_ground(piece[1]);
            EXPECT_LT(metres_between(end, route.poles[i + 1], route.crs.ground()), 0.02);
            const Course course = route.crs.ground().course(route.poles[i], route.poles[i + 1]);
            EXPECT_NEAR(span.length_m, course.length_m, 0.02);
            EXPECT_LT(angle_between(span.azimuth.value(), course.start).degrees(), 1e-6);
        }
    }
}

TEST(LayerPaths, PointsAddedAreNoVerticesToSnapTo) {
    // A pole 1.5 m beside a point added: within the snap tolerance of it, beyond the interior cut.
    LongRoute route{"EPSG:32615", {-92.3, 41.5}, 200};
    ASSERT_GT(route.path.points.size(), 4U);
    const double metre = 1.0 / 111320.0;
    const Point added = route.path.points[2];
    ASSERT_GT(route.path.places[2].fraction, 0.0);
    route.poles = {route.poles.front(), {added.x, added.y + 2.0 * metre}, route.poles.back()};
    EXPECT_EQ(route.solve().spans().size(), 1U);
}

TEST(LayerPaths, ALongSpanKeepsItsLengthAndDirection) {
    LongRoute route{"EPSG:32615", {-92.3, 41.5}, 200};
    route.poles = {route.poles.front(), route.poles.back()};
    const Course course = route.crs.ground().course(route.poles[0], route.poles[1]);
    const ResolvedSpan span = route.solve().spans()[0];
    EXPECT_EQ(span.path, ResolvedSpan::kWholeFeature);
    EXPECT_EQ(span.length_m, course.length_m);
    EXPECT_EQ(span.azimuth.value().degrees(), course.start.degrees());
}

TEST(LayerPaths, DrawnBackwardsItIsCutAtTheSamePlaces) {
    LongRoute route{"EPSG:32633", {15.0, 70.0}, 100};
    route.path = route.paths().carry({route.in_layer[1], route.in_layer[0]});
    const Network network = route.solve();
    ASSERT_EQ(network.spans().size(), 100U);
    EXPECT_EQ(network.spans()[0].from, 100U);
    EXPECT_NEAR(network.cuts()[1].begin.fraction, 0.01, 1e-5);
    EXPECT_EQ(network.cuts()[1].begin.vertex, 0U);
}

TEST(LayerPaths, OrdinarySpansGetNoPoints) {
    int carried = 0;
    const LayerCrs utm = LayerCrs::from_wkt("EPSG:32615");
    const LayerPaths paths{utm.ground(),
                           [&](std::span<Point> points) {
                               ++carried;
                               utm.to_ground(points);
                           },
                           false};
    const LayerPaths::Path path =
        paths.carry({{500000.0, 4600000.0}, {500200.0, 4600150.0}, {500200.0, 4600400.0}});
    EXPECT_EQ(path.points.size(), 3U);
    EXPECT_TRUE(path.places.empty());
    EXPECT_EQ(carried, 1);  // nothing beyond the vertices is looked at
}

TEST(LayerPaths, WhatIsAddedIsLimited) {
    const LayerCrs polar = LayerCrs::from_wkt("EPSG:32661");
    const LayerPaths paths{
        polar.ground(), [&](std::span<Point> points) { polar.to_ground(points); }, false};
    std::vector<Point> wild;
    for (int i = 0; i < 1000; ++i) {
        wild.push_back({i % 2 == 0 ? 1e6 : 3e6, 1.5e6 + 1000.0 * i});
    }
    const LayerPaths::Path path = paths.carry(wild);
    EXPECT_GT(path.points.size(), 1000U);
    EXPECT_LE(path.points.size(), 1000U + 65536U + 20U);
    EXPECT_EQ(path.places.size(), path.points.size());
    EXPECT_EQ(path.places.back(), (PathPlace{999, 0.0}));
}

}  // namespace
}  // namespace linewood
