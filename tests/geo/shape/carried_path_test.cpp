#include "geo/shape/carried_path.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <gtest/gtest.h>

namespace linewood {
namespace {

/// A plane whose lines along y bend: x to a parabola. Between -1 and 1 it is 1 high.
Point bent(Point p) { return {p.x, p.y + 1.0 - p.x * p.x}; }

TEST(carried_path, keeps_what_stays_straight) {
    const std::vector<Point> path{{0, 0}, {10, 0}, {10, 5}};
    const auto moved = [](Point p) { return Point{2.0 * p.x + 1.0, p.y - p.x}; };
    for (const bool ring : {false, true}) {
        const auto out = carried_path(path, ring, 1e-9, moved);
        ASSERT_EQ(out.size(), 3U);
        for (std::size_t i = 0; i < 3; ++i) {
            EXPECT_EQ(out[i], moved(path[i]));
        }
    }
    EXPECT_TRUE(carried_path({}, true, 1.0, moved).empty());
    EXPECT_EQ(carried_path({{1, 2}}, false, 1.0, moved).size(), 1U);
}

TEST(carried_path, puts_points_in_until_no_edge_is_off) {
    constexpr double kTolerance = 1e-3;
    const auto out = carried_path({{-1, 0}, {1, 0}}, false, kTolerance, bent);
    EXPECT_GT(out.size(), 10U);
    EXPECT_LT(out.size(), 200U);
    for (std::size_t i = 1; i < out.size(); ++i) {
        EXPECT_LT(out[i - 1].x, out[i].x);
        const double x = 0.5 * (out[i - 1].x + out[i].x);
        const double y = 0.5 * (out[i - 1].y + out[i].y);
        EXPECT_NEAR(y, bent({x, 0}).y, 1.2 * kTolerance);  // looked at in thirds, not in the middle
    }
    // The edge that closes a ring is one too.
    const auto ring = carried_path({{-1, 0}, {1, 0}, {1, -1}, {-1, -1}}, true, kTolerance, bent);
    EXPECT_GT(ring.size(), 2 * out.size() - 2);
}

TEST(carried_path, leaves_out_what_has_no_place) {
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    const auto half = [](Point p) { return p.x < 0.3 ? p : Point{kNan, kNan}; };
    const auto out = carried_path({{0, 0}, {1, 0}}, false, 1e-3, half);
    ASSERT_GE(out.size(), 2U);
    EXPECT_EQ(out.front(), (Point{0, 0}));
    EXPECT_NEAR(out.back().x, 0.3, 1e-3);
    EXPECT_TRUE(std::all_of(out.begin(), out.end(), [](Point p) { return std::isfinite(p.x); }));
}

}  // namespace
}  // namespace linewood
