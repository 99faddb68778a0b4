#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/drawn_path.hpp"

namespace linewood {
namespace {

const Ground kPlane = Ground::planar(1.0);

Point bend(const std::vector<Point>& piece) {
    return first_bend(piece, piece.front(), piece.back(), Length::metres(2), kPlane);
}

TEST(FirstBend, TableOfPaths) {
    struct Case {
        const char* what;
        std::vector<Point> path;
        Point expected;
    };
    const Case cases[] = {
        {"straight", {{0, 0}, {100, 0}}, {100, 0}},
        {"straight with vertices", {{0, 0}, {10, 0}, {60, 0}, {100, 0}}, {100, 0}},
        {"one bend", {{0, 0}, {50, 0}, {50, 50}}, {50, 0}},
        {"vertices before the bend", {{0, 0}, {20, 0}, {50, 0}, {50, 50}}, {50, 0}},
        {"slight bend of 2 degrees", {{0, 0}, {50, 0}, {100, 1.75}}, {50, 0}},
        {"a millimetre off is straight", {{0, 0}, {50, 0.001}, {100, 0}}, {100, 0}},
        {"bend near the pole is none", {{0, 0}, {1, 1.5}, {100, 0}}, {100, 0}},
        {"bend near the neighbour is none", {{0, 0}, {99, 1.5}, {100, 0}}, {100, 0}},
        {"doubling back", {{0, 0}, {50, 0}, {20, 0}}, {50, 0}},
        {"back to the start", {{0, 0}, {50, 0}, {50, 50}, {0, 0}}, {50, 0}},
        {"slow curve", {{0, 0}, {10, 0}, {20, 1}, {30, 3}, {40, 6}}, {10, 0}},
    };
    for (const Case& c : cases) {
        EXPECT_EQ(bend(c.path), c.expected) << c.what;
    }
}

TEST(FirstBend, IsJudgedByHowWellThePathMeetsItsPoles) {
    const std::vector<Point> path{{0, 0}, {50, 1.0}, {100, 0}};
    EXPECT_EQ(first_bend(path, {0, 0}, {100, 0}, Length::metres(2), kPlane), (Point{50, 1}));
    EXPECT_EQ(first_bend(path, {0, 1.2}, {100, 0}, Length::metres(2), kPlane), (Point{100, 0}));
    EXPECT_EQ(first_bend(path, {0, 0}, {100, 1.2}, Length::metres(2), kPlane), (Point{100, 1.2}));
}

TEST(FirstBend, ALineBesideItsPolesMayHookToThem) {
    const std::vector<Point> path{{0, 0}, {0, 1.5}, {20, 1.5}, {40, 1.5}, {60, 1.5}, {60, 0}};
    EXPECT_EQ(bend(path), path.back());
    EXPECT_EQ(bend({{0, 0}, {0, 1.5}, {20, 1.5}, {40, 4}, {60, 1.5}, {60, 0}}), (Point{40, 4}));
}

TEST(FirstBend, ADenseCurveThatBeginsAtThePoleIsFollowedFromThere) {
    // A circle of 20 m through the pole, a vertex every degree; it leaves to the north.
    std::vector<Point> path;
    for (int i = 0; i <= 180; ++i) {
        const double a = i * std::numbers::pi / 180.0;
        path.push_back({20.0 - 20.0 * std::cos(a), 20.0 * std::sin(a)});
    }
    const Point first = bend(path);
    EXPECT_LT(std::atan2(first.x, first.y) * 180.0 / std::numbers::pi, 7.0);
    std::reverse(path.begin(), path.end());
    const Point other = bend(path);
    EXPECT_LT(std::atan2(40.0 - other.x, other.y) * 180.0 / std::numbers::pi, 7.0);
}

TEST(FirstBend, ADenseHundredKilometresIsOnePass) {
    std::vector<Point> path;
    for (int i = 0; i <= 200000; ++i) {
        path.push_back({0.5 * i, 0.0});
    }
    EXPECT_EQ(bend(path), path.back());
}

TEST(DrawnPath, ReadsBothWaysAndCountsBack) {
    const std::vector<Point> points{{0, 0}, {1, 0}, {2, 0}, {3, 0}};
    const DrawnPath forward{points, false};
    const DrawnPath backward{points, true};
    EXPECT_EQ(forward.front(), (Point{0, 0}));
    EXPECT_EQ(backward.front(), (Point{3, 0}));
    EXPECT_EQ(backward[1], (Point{2, 0}));
    EXPECT_EQ(forward.as_drawn({1, 0.25}), (PathPlace{1, 0.25}));
    EXPECT_EQ(backward.as_drawn({0, 0.25}), (PathPlace{2, 0.75}));
    EXPECT_EQ(backward.as_drawn({3, 0.0}), (PathPlace{0, 0.0}));
    EXPECT_EQ(backward.as_drawn({1, 1e-20}), (PathPlace{2, 0.0}));
}

TEST(CutPath, GivesWholeAndPartialPieces) {
    const std::vector<Point> first{{0, 0}, {10, 0}};
    const std::vector<Point> second{{0, 5}, {10, 5}, {20, 5}, {30, 5}};
    const std::vector<std::span<const Point>> parts{first, second};
    const auto cut = [&](PathCut c) { return cut_path(parts, c, kPlane); };
    EXPECT_EQ(cut({0, {0, 0}, {1, 0}}), first);
    EXPECT_EQ(cut({1, {0, 0.5}, {2, 0.5}}),
              (std::vector<Point>{{5, 5}, {10, 5}, {20, 5}, {25, 5}}));
    EXPECT_EQ(cut({1, {1, 0.25}, {1, 0.75}}), (std::vector<Point>{{12.5, 5}, {17.5, 5}}));
    EXPECT_EQ(cut({1, {1, 0}, {2, 0}}), (std::vector<Point>{{10, 5}, {20, 5}}));
}

TEST(CutValues, GoWithThePointsOfThePiece) {
    const std::vector<double> heights{100, 104, 110, 90};
    EXPECT_EQ(cut_values(heights, {0, {0, 0}, {3, 0}}), heights);
    EXPECT_EQ(cut_values(heights, {0, {0, 0.5}, {2, 0.25}}),
              (std::vector<double>{102, 104, 110, 105}));
    EXPECT_EQ(cut_values(heights, {0, {1, 0.5}, {1, 0.75}}), (std::vector<double>{107, 108.5}));
    EXPECT_EQ(cut_values(heights, {0, {1, 0}, {2, 0}}), (std::vector<double>{104, 110}));
}

TEST(PointBetween, GoesTheShortWayRound) {
    const Ground earth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    EXPECT_NEAR(point_between({179.5, 0}, {-179.5, 0}, 0.25, earth).x, 179.75, 1e-12);
}

TEST(CutPath, PiecesDoNotGoRoundTheWorld) {
    const Ground earth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    // Six tenths of the first segment are west of the meridian; then a vertex east of it.
    const std::vector<Point> part{{179.994, 10.0}, {-179.996, 10.0}, {-179.99, 10.0}};
    const std::span<const Point> drawn{part};
    const auto longitudes = [&](PathPlace begin, PathPlace end) {
        std::vector<double> x;
        for (const Point p : cut_path({&drawn, 1}, {0, begin, end}, earth)) {
            x.push_back(p.x);
        }
        return x;
    };
    const auto expect = [](const std::vector<double>& found, const std::vector<double>& wanted) {
        ASSERT_EQ(found.size(), wanted.size());
        for (std::size_t i = 0; i < found.size(); ++i) {
            EXPECT_NEAR(found[i], wanted[i], 1e-9);
        }
    };
    expect(longitudes({0, 0.0}, {0, 0.5}), {179.994, 179.999});
    expect(longitudes({0, 0.5}, {0, 0.8}), {179.999, 180.002});
    expect(longitudes({0, 0.5}, {2, 0.0}), {179.999, 180.004, 180.01});
    expect(longitudes({0, 0.8}, {1, 0.0}), {-179.998, -179.996});
    expect(longitudes({1, 0.0}, {2, 0.0}), {-179.996, -179.99});
    // Longitudes counted from 0 to 360 do not jump, and stay as they are.
    const std::vector<Point> on{{179.994, 10.0}, {180.004, 10.0}};
    const std::span<const Point> whole{on};
    EXPECT_NEAR(cut_path({&whole, 1}, {0, {0, 0.8}, {1, 0.0}}, earth).front().x, 180.002, 1e-9);
}

}  // namespace
}  // namespace linewood
