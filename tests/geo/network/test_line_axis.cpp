#include <algorithm>
#include <cmath>
#include <random>
#include <tuple>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/line_axis.hpp"

namespace linewood {
namespace {

Neighbour neighbour(std::uint32_t pole, double azimuth) {
    Neighbour n;
    n.pole = pole;
    n.azimuth = Bearing::degrees(azimuth);
    n.leaves = true;
    return n;
}

double axis(double a, double b) {
    return axis_of(Bearing::degrees(a), Bearing::degrees(b)).degrees();
}

/// The contract's own words: u2 - u1, or square to u1 + u2, whichever is longer.
double axis_by_vectors(double a, double b) {
    const double r = std::acos(-1.0) / 180.0;
    const double dx = std::sin(b * r) - std::sin(a * r);
    const double dy = std::cos(b * r) - std::cos(a * r);
    const double sx = std::sin(b * r) + std::sin(a * r);
    const double sy = std::cos(b * r) + std::cos(a * r);
    const bool difference = std::hypot(dx, dy) >= std::hypot(sx, sy);
    return Bearing::wrap((difference ? std::atan2(dx, dy) : std::atan2(sy, -sx)) / r, 180.0);
}

TEST(LineAxis, IsTheContractsVectorsForAnyTwoDirections) {
    for (int a = 0; a < 360; a += 7) {
        for (int b = 0; b < 360; b += 5) {
            const double expected = axis_by_vectors(a, b);
            const double off = std::remainder(axis(a, b) - expected, 180.0);
            EXPECT_NEAR(off, 0.0, 1e-9) << a << " " << b;
        }
    }
}

TEST(LineAxis, StraightOnAndRightAngleAndSameDirection) {
    EXPECT_DOUBLE_EQ(axis(90, 270), 0.0 + 90.0);
    EXPECT_DOUBLE_EQ(axis(0, 90), 135.0);
    EXPECT_DOUBLE_EQ(axis(90, 0), 135.0);
    EXPECT_DOUBLE_EQ(axis(40, 40),
                     130.0);  // square to u1 + u2, the only one of the two with a length
}

TEST(LineAxis, DeflectionIsTheTradesLineAngle) {
    const auto deflection = [](double a, double b) {
        return deflection_of(Bearing::degrees(a), Bearing::degrees(b)).degrees();
    };
    EXPECT_DOUBLE_EQ(deflection(10, 190), 0.0);
    EXPECT_DOUBLE_EQ(deflection(0, 90), 90.0);
    EXPECT_DOUBLE_EQ(deflection(350, 165), 5.0);
    EXPECT_DOUBLE_EQ(deflection(33, 33), 180.0);
}

TEST(LineDirectionOfTwo, UpToFiveDegreesIsTangentAboveIsAngle) {
    const NetworkSettings settings;
    const auto role = [&](double second) {
        const std::vector<Neighbour> two{neighbour(1, 0), neighbour(2, second)};
        return line_direction(two, settings).role;
    };
    EXPECT_EQ(role(180.0), LineRole::tangent);
    EXPECT_EQ(role(185.0), LineRole::tangent);
    EXPECT_EQ(role(175.0), LineRole::tangent);
    EXPECT_EQ(role(185.001), LineRole::angle);
    EXPECT_EQ(role(90.0), LineRole::angle);
    EXPECT_EQ(role(0.0), LineRole::angle);
}

TEST(LineDirectionOfTwo, TheTangentLimitIsASetting) {
    NetworkSettings settings;
    settings.tangent_limit = Angle::degrees(2.0);
    const std::vector<Neighbour> two{neighbour(1, 0), neighbour(2, 183)};
    EXPECT_EQ(line_direction(two, settings).role, LineRole::angle);
}

TEST(LineDirectionOfNoneAndOne, IsolatedAndDeadEnd) {
    const NetworkSettings settings;
    const LineDirection none = line_direction({}, settings);
    EXPECT_EQ(none.role, LineRole::isolated);
    EXPECT_EQ(none.source, LineSource::none);
    EXPECT_FALSE(none.axis);
    EXPECT_FALSE(none.deflection);
    const std::vector<Neighbour> one{neighbour(1, 200)};
    const LineDirection end = line_direction(one, settings);
    EXPECT_EQ(end.role, LineRole::dead_end);
    EXPECT_EQ(end.source, LineSource::spans);
    EXPECT_DOUBLE_EQ(end.axis.value().degrees(), 20.0);
    EXPECT_FALSE(end.deflection);
}

struct JunctionCase {
    const char* what;
    std::vector<Neighbour> neighbours;
    double axis;  ///< NaN: none
    double deflection;
};

Neighbour carrying(std::uint32_t pole,
                   double azimuth,
                   std::vector<std::uint32_t> circuits,
                   float kv) {
    Neighbour n = neighbour(pole, azimuth);
    n.circuits = std::move(circuits);
    n.voltage_kv = kv;
    return n;
}

TEST(Junction, PairsAreOrderedByCircuitThenVoltageThenDeflection) {
    const float none = std::nanf("");
    const double no = std::nan("");
    const JunctionCase cases[] = {
        {"least deflection, nothing else known",
         {carrying(1, 0, {}, none), carrying(2, 100, {}, none), carrying(3, 178, {}, none)},
         179.0,
         2.0},
        {"same circuit before least deflection",
         {carrying(1, 0, {7}, none), carrying(2, 180, {8}, none), carrying(3, 200, {7}, none)},
         10.0,
         20.0},
        {"same circuit before higher voltage",
         {carrying(1, 0, {7}, 12),
          carrying(2, 170, {7}, 12),
          carrying(3, 90, {8}, 69),
          carrying(4, 270, {9}, 69)},
         175.0,
         10.0},
        {"two circuits: the higher voltage",
         {carrying(1, 0, {7}, 12),
          carrying(2, 90, {8}, 69),
          carrying(3, 180, {7}, 12),
          carrying(4, 260, {8}, 69)},
         85.0,
         10.0},
        {"a pair's voltage is the lower of its two sides",
         {carrying(1, 0, {}, 69),
          carrying(2, 90, {}, 25),
          carrying(3, 180, {}, 12),
          carrying(4, 290, {}, 25),
          carrying(5, 185, {}, 25)},
         2.5,
         5.0},
        {"unknown voltage is lowest",
         {carrying(1, 0, {}, none),
          carrying(2, 90, {}, 12),
          carrying(3, 180, {}, none),
          carrying(4, 290, {}, 12)},
         100.0,
         20.0},
        {"the first pair bends more than 30: none, though another is straight",
         {carrying(1, 0, {7}, none), carrying(2, 90, {7}, none), carrying(3, 180, {8}, none)},
         no,
         no},
        {"exactly 30 gives an axis",
         {carrying(1, 0, {}, none), carrying(2, 100, {}, none), carrying(3, 210, {}, none)},
         15.0,
         30.0},
        {"a doubled neighbour has both its circuits",
         {carrying(1, 0, {7, 8}, none), carrying(2, 90, {7}, none), carrying(3, 180, {8}, none)},
         0.0,
         0.0},
        {"three ways, none straight: none",
         {carrying(1, 0, {}, none), carrying(2, 120, {}, none), carrying(3, 240, {}, none)},
         no,
         no},
    };
    const NetworkSettings settings;
    for (JunctionCase c : cases) {
        std::sort(c.neighbours.begin(),
                  c.neighbours.end(),
                  [](const Neighbour& a, const Neighbour& b) { return a.azimuth < b.azimuth; });
        const LineDirection line = line_direction(c.neighbours, settings);
        EXPECT_EQ(line.role, LineRole::junction) << c.what;
        EXPECT_EQ(line.source, LineSource::spans) << c.what;
        ASSERT_EQ(line.axis.has_value(), !std::isnan(c.axis)) << c.what;
        ASSERT_EQ(line.deflection.has_value(), !std::isnan(c.axis)) << c.what;
        if (line.axis) {
            EXPECT_NEAR(std::remainder(line.axis.value().degrees() - c.axis, 180.0), 0.0, 1e-9)
                << c.what;
            EXPECT_NEAR(line.deflection.value().degrees(), c.deflection, 1e-9) << c.what;
        }
    }
}

TEST(Junction, ThePairLimitIsASetting) {
    NetworkSettings settings;
    settings.junction_pair_limit = Angle::degrees(1.0);
    const std::vector<Neighbour> three{neighbour(1, 0), neighbour(2, 90), neighbour(3, 182)};
    EXPECT_FALSE(line_direction(three, settings).axis);
}

TEST(Junction, EquallyStraightPairsGoByTheLowestPole) {
    // A cross of two equal lines; the noise of azimuths must not choose.
    const std::vector<Neighbour> cross{
        neighbour(5, 0), neighbour(2, 90 + 1e-9), neighbour(6, 180), neighbour(3, 270)};
    const auto [a, b] = first_pair(cross);
    EXPECT_EQ(cross[a].pole, 2U);
    EXPECT_EQ(cross[b].pole, 3U);
}

bool share_a_circuit(const Neighbour& a, const Neighbour& b) {
    return std::any_of(a.circuits.begin(), a.circuits.end(), [&](std::uint32_t c) {
        return std::count(b.circuits.begin(), b.circuits.end(), c) > 0;
    });
}

/// All pairs, by the contract's words.
std::pair<std::size_t, std::size_t> first_pair_slowly(const std::vector<Neighbour>& n) {
    using Key = std::tuple<bool, float, double>;
    std::pair<std::size_t, std::size_t> best{0, 1};
    Key best_key{true, 1.0F, 360.0};
    for (std::size_t a = 0; a < n.size(); ++a) {
        for (std::size_t b = a + 1; b < n.size(); ++b) {
            const Key key{!share_a_circuit(n[a], n[b]),
                          -std::min(n[a].voltage_kv, n[b].voltage_kv),
                          deflection_of(n[a].azimuth, n[b].azimuth).degrees()};
            if (key < best_key) {
                best_key = key;
                best = {a, b};
            }
        }
    }
    return best;
}

std::vector<Neighbour> random_junction(std::mt19937& random) {
    const auto below = [&](std::uint32_t n) {
        return std::uniform_int_distribution<std::uint32_t>{0, n - 1}(random);
    };
    std::vector<Neighbour> n(3 + below(6));
    for (std::uint32_t i = 0; i < n.size(); ++i) {
        n[i] = neighbour(i, below(360000) / 1000.0);
        n[i].voltage_kv = static_cast<float>(4 * below(3));
        for (std::uint32_t c = 0; c < 4; ++c) {
            if (below(5) == 0) {
                n[i].circuits.push_back(c);
            }
        }
    }
    std::sort(n.begin(), n.end(), [](const Neighbour& a, const Neighbour& b) {
        return a.azimuth < b.azimuth;
    });
    return n;
}

TEST(Junction, FirstPairAgreesWithAllPairsOnRandomJunctions) {
    std::mt19937 random{1};
    for (int round = 0; round < 5000; ++round) {
        const std::vector<Neighbour> n = random_junction(random);
        const auto deflection = [&](std::pair<std::size_t, std::size_t> pair) {
            return deflection_of(n[pair.first].azimuth, n[pair.second].azimuth).degrees();
        };
        EXPECT_NEAR(deflection(first_pair(n)), deflection(first_pair_slowly(n)), 1e-6) << round;
    }
}

TEST(GatherNeighbours, SpansToOnePoleAreOneWithTheShortestsAzimuthAndAllTheyCarry) {
    std::vector<LineArc> arcs(3);
    arcs[0] = {4, 0, Bearing::degrees(50), 60.0, 9, 12.0F, true};
    arcs[1] = {4, 1, Bearing::degrees(40), 50.0, 3, std::nanf(""), false};
    arcs[2] = {2, 2, Bearing::degrees(45), 10.0, kNone, 69.0F, true};
    std::vector<Neighbour> found;
    gather_neighbours(arcs, found);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_EQ(found[0].pole, 4U);
    EXPECT_EQ(found[0].span, 1U);
    EXPECT_DOUBLE_EQ(found[0].azimuth.degrees(), 40.0);
    EXPECT_EQ(found[0].circuits, (std::vector<std::uint32_t>{3, 9}));
    EXPECT_FLOAT_EQ(found[0].voltage_kv, 12.0F);
    EXPECT_TRUE(found[0].leaves);
    EXPECT_TRUE(found[0].arrives);
    EXPECT_EQ(found[1].pole, 2U);
    EXPECT_TRUE(found[1].circuits.empty());
    EXPECT_FALSE(found[1].arrives);
}

}  // namespace
}  // namespace linewood
