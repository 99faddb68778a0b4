#include <algorithm>
#include <cmath>
#include <random>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/drawn_path.hpp"
#include "geo/network/pole_grid.hpp"

namespace linewood {
namespace {

const Ground kEarth = Ground::geodesic(6378137.0, 1.0 / 298.257223563);

struct World {
    const char* what;
    Ground ground;
    Point centre;
    double spread_m;
};

std::vector<World> worlds() {
    return {
        {"plane", Ground::planar(1.0), {5e5, 5e6}, 300},
        {"feet", Ground::planar(0.3048), {-1e6, 0}, 300},
        {"earth", kEarth, {-93, 44}, 300},
        {"180th meridian", kEarth, {180, -20}, 300},
        {"far north", kEarth, {-179.99, 84}, 300},
        {"equator", kEarth, {0, 0}, 300},
        {"wide", kEarth, {10, 50}, 100000},
    };
}

class Scatter {
public:
    Scatter(const World& world, unsigned seed) : world_{world}, random_{seed} {}

    Point any() { return offset(world_.centre, world_.spread_m); }
    Point offset(Point from, double by_m) {
        std::uniform_real_distribution<double> d{-by_m, by_m};
        const Ground::Scale scale = world_.ground.scale_at(world_.centre);
        Point p{from.x + d(random_) / scale.x_m, from.y + d(random_) / scale.y_m};
        if (!world_.ground.is_planar() && p.x > 180) {
            p.x -= 360;
        }
        return p;
    }

private:
    const World& world_;
    std::mt19937 random_;
};

/// Metres between near places by the ground's own courses, or its plane: independent of the grid.
double distance(const World& w, Point a, Point b) { return w.ground.course(a, b).length_m; }

std::vector<Point> scattered(Scatter& scatter, std::size_t count) {
    std::vector<Point> poles(count);
    std::generate(poles.begin(), poles.end(), [&] { return scatter.any(); });
    return poles;
}

std::pair<std::uint32_t, double> nearest_slowly(const World& world,
                                                const std::vector<Point>& poles,
                                                Point at) {
    std::pair<std::uint32_t, double> best{kNone, 1e9};
    for (std::uint32_t p = 0; p < poles.size(); ++p) {
        const double d = distance(world, at, poles[p]);
        if (d < best.second) {
            best = {p, d};
        }
    }
    return best;
}

TEST(PoleGrid, NearestAgreesWithAllPairs) {
    for (const World& world : worlds()) {
        Scatter scatter{world, 11};
        const std::vector<Point> poles = scattered(scatter, 400);
        const PoleGrid grid{world.ground, poles, 4.0};
        int found_any = 0;
        for (std::size_t i = 0; i < 600; ++i) {
            const Point at =
                i % 2 == 0 ? scatter.any() : scatter.offset(poles[i % poles.size()], 2.0);
            const auto [pole, best] = nearest_slowly(world, poles, at);
            if (std::abs(best - 2.0) < 1e-3) {
                continue;  // too near the limit to be told by a plane
            }
            const PoleGrid::Nearest found = grid.nearest(at, 2.0);
            EXPECT_EQ(found.pole, best <= 2.0 ? pole : kNone) << world.what << " " << i;
            if (best <= 2.0) {
                EXPECT_NEAR(found.distance_m, best, 1e-3) << world.what;
                ++found_any;
            }
        }
        EXPECT_GT(found_any, 150) << world.what;
    }
}

/// In metres around the pole itself, by hand.
double beside_by_hand(const World& world, Point pole, Point a, Point b) {
    const Ground::Scale s = world.ground.scale_at(pole);
    const double ax = world.ground.x_step(pole.x, a.x) * s.x_m;
    const double ay = (a.y - pole.y) * s.y_m;
    const double dx = world.ground.x_step(a.x, b.x) * s.x_m;
    const double dy = (b.y - a.y) * s.y_m;
    const double t = std::clamp(-(ax * dx + ay * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    return std::hypot(ax + t * dx, ay + t * dy);
}

TEST(PoleGrid, BesideAgreesWithAllPairs) {
    for (const World& world : worlds()) {
        Scatter scatter{world, 5};
        const std::vector<Point> poles = scattered(scatter, 300);
        const PoleGrid grid{world.ground, poles, 4.0};
        std::size_t found_any = 0;
        for (int i = 0; i < 300; ++i) {
            const Point a = scatter.any();
            const Point b = scatter.any();
            std::vector<PoleGrid::Beside> beside;
            grid.beside(a, b, 3.0, beside);
            std::vector<bool> found(poles.size());
            for (const auto& p : beside) {
                found[p.pole] = true;
            }
            for (std::size_t p = 0; p < poles.size(); ++p) {
                EXPECT_EQ(found[p], beside_by_hand(world, poles[p], a, b) <= 3.0)
                    << world.what << " " << i << " " << p;
            }
            found_any += beside.size();
        }
        EXPECT_GT(found_any, world.spread_m > 1000 ? 0U : 100U) << world.what;
    }
}

TEST(PoleGrid, AnOutlierOrManyAtOnePlaceDoNotSpoilIt) {
    std::vector<Point> poles(50000, Point{3.0, 4.0});
    poles.push_back({1e14, -1e14});
    poles.push_back({10.0, 4.0});
    poles.push_back({std::nan(""), 4.0});
    const PoleGrid grid{Ground::planar(1.0), poles, 4.0};
    for (int i = 0; i < 20000; ++i) {
        EXPECT_EQ(grid.nearest({3.0, 5.0}, 2.0).pole, 0U);
    }
    EXPECT_EQ(grid.nearest({3.0, 5.0}, 2.0).second_m, 1.0);
    EXPECT_EQ(grid.nearest({10.0, 5.0}, 2.0).pole, 50001U);
    EXPECT_EQ(grid.nearest({1e14, -1e14}, 2.0).pole, 50000U);
    EXPECT_FALSE(grid.too_dense(2.0));
}

TEST(PoleGrid, EquallyNearIsTheLowerIndex) {
    const std::vector<Point> poles{{50, 0}, {2.5, 0}, {0, 1.5}, {-1.5, 1e-9}};
    const PoleGrid grid{Ground::planar(1.0), poles, 4.0};
    const PoleGrid::Nearest found = grid.nearest({0, 0}, 2.0);
    EXPECT_EQ(found.pole, 2U);
    EXPECT_NEAR(found.second_m, 1.5, 1e-6);
}

TEST(PoleGrid, AtThePoleOfTheEarthEveryMeridianIsNear) {
    const std::vector<Point> poles{{0, 89.99999}, {90, 89.99999}, {-179, 89.9}};
    const PoleGrid grid{kEarth, poles, 4.0};
    EXPECT_EQ(grid.nearest({0, 89.99999}, 2.0).pole, 0U);
    EXPECT_EQ(grid.nearest({450, 89.99999}, 2.0).pole, 1U);
    EXPECT_EQ(grid.nearest({181, 89.9}, 2.0).pole, 2U);
}

}  // namespace
}  // namespace linewood
