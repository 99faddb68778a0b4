#include "geo/corridor/drawn_corridors.hpp"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

namespace linewood {
namespace {

DrawnShape square(double x, double y, double side) {
    return {{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}};
}

TEST(DrawnCorridors, AStripReachesHalfItsWidth) {
    const auto strips =
        DrawnCorridors::strips({{{{{0, 0}, {100, 0}}}}, {{{{0, 30}, {100, 30}}}}}, 20.0);
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

TEST(DrawnCorridors, AnAreaHasHolesAndTheFirstOneWins) {
    DrawnShape holed = square(0, 0, 10);
    holed.parts.push_back(square(4, 4, 2).parts.front());
    const auto areas = DrawnCorridors::areas({holed, square(3, 3, 20)});
    EXPECT_EQ(areas.at({1, 1}), 0U);
    EXPECT_EQ(areas.at({5, 5}), 1U);  // in the hole of the first
    EXPECT_EQ(areas.at({8, 8}), 0U);
    EXPECT_EQ(areas.count_at({8, 8}), 2U);
    EXPECT_EQ(areas.at({30, 8}), kNone);
    EXPECT_EQ(areas.at({-1, 5}), kNone);
}

TEST(DrawnCorridors, ARingLeftOpenIsClosed) {
    const auto areas = DrawnCorridors::areas({{{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}}}});
    EXPECT_EQ(areas.at({5, 5}), 0U);
    EXPECT_EQ(areas.at({-5, 5}), kNone);
}

TEST(DrawnCorridors, NothingDrawnHoldsNothing) {
    EXPECT_EQ(DrawnCorridors::strips({}, 5.0).at({0, 0}), kNone);
    EXPECT_EQ(DrawnCorridors::areas({{}}).count_at({0, 0}), 0U);
}

/// Without a grid: the winding by the sum of angles, and the distance sampled along every edge.
double winding(const std::vector<Point>& ring, Point p) {
    double sum = 0.0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point a = ring[i];
        const Point b = ring[(i + 1) % ring.size()];
        sum += std::atan2((a.x - p.x) * (b.y - p.y) - (a.y - p.y) * (b.x - p.x),
                          (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y));
    }
    return sum / (2.0 * M_PI);
}

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
    const auto areas = DrawnCorridors::areas(circles);
    const auto strips = DrawnCorridors::strips(circles, 3.0);
    for (int i = 0; i < 400; ++i) {
        const Point p{place(random), place(random)};
        std::uint32_t inside = kNone;
        std::uint32_t nearest = kNone;
        double least = 3.0;
        for (std::uint32_t s = 0; s < circles.size(); ++s) {
            const auto& ring = circles[s].parts.front();
            if (inside == kNone && std::abs(winding(ring, p)) > 0.5) {
                inside = s;
            }
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
        EXPECT_EQ(areas.at(p), inside);
        const std::uint32_t strip = strips.at(p);
        if (strip != nearest) {  // only where two are as near, or the edge of the strip is
            EXPECT_TRUE(least > 2.99 || strips.count_at(p) > 1) << p.x << " " << p.y;
        }
    }
}

}  // namespace
}  // namespace linewood
