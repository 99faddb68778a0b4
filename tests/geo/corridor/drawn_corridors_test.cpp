#include "geo/corridor/drawn_corridors.hpp"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(DrawnCorridors, AStripReachesHalfItsWidth) {
    const auto strips = DrawnCorridors({{{{{0, 0}, {100, 0}}}}, {{{{0, 30}, {100, 30}}}}}, 20.0);
    EXPECT_EQ(strips.at({50, 10}), 0U);
    EXPECT_EQ(strips.at({50, 20.001}), 1U);
    EXPECT_EQ(strips.at({50, 15}), 0U);  // as near to both: the first
    EXPECT_EQ(strips.count_at({50, 15}), 2U);
    EXPECT_EQ(strips.at({50, -20}), 0U);  // the edge belongs to it
    EXPECT_EQ(strips.at({50, -20.001}), kNone);
    EXPECT_EQ(strips.at({-16, -12}), 0U);  // round at the ends: 20 m away
    EXPECT_EQ(strips.at({-17, -12}), kNone);
    EXPECT_EQ(strips.at({50, 1e9}), kNone);
}

TEST(DrawnCorridors, NothingDrawnHoldsNothing) {
    EXPECT_EQ(DrawnCorridors({}, 5.0).at({0, 0}), kNone);
    EXPECT_EQ(DrawnCorridors({{}}, 5.0).count_at({0, 0}), 0U);
}

/// Without a grid: the distance sampled along every edge.
TEST(DrawnCorridors, AreAsFoundWithoutAGrid) {
    std::mt19937 random{5};
    std::uniform_real_distribution<double> place{0.0, 100.0};
    std::vector<DrawnShape> circles;
    for (int i = 0; i < 30; ++i) {
        std::vector<Point> ring;
        const Point middle{place(random), place(random)};
        const double radius = place(random) / 5.0 + 1.0;
        for (int k = 0; k < 24; ++k) {
            const double turn = k * M_PI / 12.0;
            ring.push_back(
                {middle.x + radius * std::cos(turn), middle.y + radius * std::sin(turn)});
        }
        circles.push_back({{ring}});
    }
    const DrawnCorridors strips{circles, 3.0};
    for (int i = 0; i < 400; ++i) {
        const Point p{place(random), place(random)};
        std::uint32_t nearest = kNone;
        double least = 3.0;
        for (std::uint32_t s = 0; s < circles.size(); ++s) {
            const auto& ring = circles[s].parts.front();
            for (std::size_t k = 1; k < ring.size(); ++k) {
                for (int step = 0; step <= 200; ++step) {
                    const double t = step / 200.0;
                    const double d =
                        std::hypot(ring[k - 1].x + t * (ring[k].x - ring[k - 1].x) - p.x,
                                   ring[k - 1].y + t * (ring[k].y - ring[k - 1].y) - p.y);
                    if (d < least - 1e-3) {
                        least = d;
                        nearest = s;
                    }
                }
            }
        }
        const std::uint32_t strip = strips.at(p);
        if (strip != nearest) {  // only where two are as near, or the edge of the strip is
            EXPECT_TRUE(least > 2.99 || strips.count_at(p) > 1) << p.x << " " << p.y;
        }
    }
}

}  // namespace
}  // namespace linewood
