#include <algorithm>
#include <cmath>
#include <utility>

#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::DrawnNetwork;

/// M stands 5 m north of the middle of A-B.
DrawnNetwork mast_beside_a_line() {
    DrawnNetwork drawn("A---B");
    drawn.add_pole('M', {20, 5});
    return drawn;
}

TEST(NearestLine, IsOffByDefault) {
    EXPECT_EQ(mast_beside_a_line().at('M').role, LineRole::isolated);
    EXPECT_EQ(mast_beside_a_line().at('M').source, LineSource::none);
}

TEST(NearestLine, GivesItsDirectionWithinTheDistance) {
    DrawnNetwork drawn = mast_beside_a_line();
    drawn.settings.nearest_line = Length::metres(5);
    const LineDirection line = drawn.at('M');
    EXPECT_EQ(line.role, LineRole::tangent);
    EXPECT_EQ(line.source, LineSource::nearest_line);
    EXPECT_NEAR(line.axis.value().degrees(), 90, 1e-9);
    EXPECT_FALSE(line.deflection);
    EXPECT_FALSE(drawn.solve().ahead(drawn.index('M')));
    EXPECT_EQ(drawn.at('A').source, LineSource::spans);
    drawn.settings.nearest_line = Length::metres(4.99);
    EXPECT_EQ(drawn.at('M').role, LineRole::isolated);
}

TEST(NearestLine, TakesTheNearestSegmentOfTheNearestLine) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(20);
    drawn.add_pole('M', {0, 0});
    drawn.add_span({{-50, 12}, {50, 12}});
    drawn.add_span({{-60, -10}, {-20, -10}, {-10, -40}, {10, -20}, {10, 20}, {60, 40}});
    EXPECT_NEAR(std::remainder(drawn.at('M').axis.value().degrees(), 180), 0, 1e-9);
    drawn.spans[1].kind = SpanKind::service;  // only lines count
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 90, 1e-9);
}

TEST(NearestLine, EquallyNearIsTheLowerRow) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(20);
    drawn.add_pole('M', {0, 0});
    drawn.add_span({{-50, 10}, {50, 10}});
    drawn.add_span({{10, -50}, {10, 9}});
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 90, 1e-9);
    std::swap(drawn.spans[0], drawn.spans[1]);
    EXPECT_NEAR(std::remainder(drawn.at('M').axis.value().degrees(), 180), 0, 1e-9);
}

TEST(NearestLine, BesideABendItIsTheAxisOfTheBendEitherWayDrawn) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(20);
    drawn.add_pole('M', {5, 5});
    drawn.add_span({{-40, 0}, {0, 0}, {0, 0}, {0, -40}});
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 135, 1e-9);
    std::reverse(drawn.spans[0].parts[0].begin(), drawn.spans[0].parts[0].end());
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 135, 1e-9);
}

TEST(NearestLine, PastTheEndOfALineItIsItsDirectionStill) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(20);
    drawn.add_pole('M', {10, 3});
    drawn.add_span({{-40, 0}, {0, 0}});
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 90, 1e-9);
}

TEST(NearestLine, ManyShortSegmentsAndPolesAtOnePlace) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(8);
    drawn.add_pole('M', {0, 105});
    drawn.add_pole('N', {0, 105});
    std::vector<Point> circle;
    for (int i = 0; i <= 3600; ++i) {
        const double angle = (i + 0.5) * 0.1 * std::acos(-1.0) / 180.0;
        circle.push_back({100 * std::sin(angle), 100 * std::cos(angle)});
    }
    drawn.add_span(circle);
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), 90, 0.06);
    EXPECT_NEAR(drawn.at('N').axis.value().degrees(), 90, 0.06);
}

TEST(NearestLine, OnTheEarthItIsTheDirectionThereNotWhereTheLineBegins) {
    DrawnNetwork drawn;
    drawn.ground = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    drawn.settings.nearest_line = Length::metres(100);
    drawn.add_pole('M', {10.95, 60.0001});
    drawn.add_span({{10.0, 60.0}, {11.0, 60.0}});
    const double there = drawn.ground.course({10.95, 60.0}, {11.0, 60.0}).start.degrees();
    EXPECT_NEAR(drawn.at('M').axis.value().degrees(), there, 0.5);
    EXPECT_GT(drawn.at('M').axis.value().degrees(), 90.2);  // it has turned by 0.9 from its start
}

}  // namespace
}  // namespace linewood
