#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/end_poles.hpp"

namespace linewood {
namespace {

std::vector<Point> poles_of(const std::vector<Point>& ends, double snap_m = 2.0) {
    EndPoles poles{Ground::planar(1.0)};
    for (const Point p : ends) {
        poles.add({p, p});
    }
    return poles.finish(Length::metres(snap_m));
}

TEST(EndPoles, StandWhereMostSpansEndAndComeFromWestToEast) {
    EXPECT_EQ(poles_of({}), std::vector<Point>{});
    EXPECT_EQ(poles_of({{40, 0}, {0, 5}, {0, -5}}), (std::vector<Point>{{0, -5}, {0, 5}, {40, 0}}));
    // Two ends at (1, 0), one each at (0, 0) and (2.5, 0): the first takes both.
    EXPECT_EQ(poles_of({{0, 0}, {1, 0}, {2.5, 0}, {1, 0}}), (std::vector<Point>{{1, 0}}));
    // Equally many: the westernmost takes what is within 2 m of it, and the next what is left.
    EXPECT_EQ(poles_of({{3, 0}, {0, 0}, {1.5, 0}}), (std::vector<Point>{{0, 0}, {3, 0}}));
}

TEST(EndPoles, EndsThatAreNoPlaceMakeNone) {
    constexpr double kNan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(poles_of({{kNan, 0}, {7, 7}, {0, kNan}}), (std::vector<Point>{{7, 7}}));
}

TEST(EndPoles, AreTheSameInAnyOrderNearEveryEndAndApart) {
    std::mt19937 random{20260101};
    std::uniform_real_distribution<double> at(0.0, 60.0);
    for (int round = 0; round < 20; ++round) {
        std::vector<Point> ends;
        for (int i = 0; i < 300; ++i) {
            ends.push_back({at(random), at(random)});
            if (i % 3 == 0) {
                ends.push_back(ends.back());
            }
        }
        const std::vector<Point> poles = poles_of(ends);
        std::shuffle(ends.begin(), ends.end(), random);
        EXPECT_EQ(poles_of(ends), poles);
        const auto nearest = [&](Point p, bool itself) {
            double least = 1e9;
            for (const Point q : poles) {
                if (itself || !(p == q)) {
                    least = std::min(least, std::hypot(p.x - q.x, p.y - q.y));
                }
            }
            return least;
        };
        for (const Point end : ends) {
            EXPECT_LE(nearest(end, true), 2.0 + 1e-6);
        }
        for (const Point pole : poles) {
            EXPECT_GT(nearest(pole, false), 2.0);
        }
    }
}

}  // namespace
}  // namespace linewood
