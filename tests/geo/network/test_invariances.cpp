#include <algorithm>
#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::DrawnNetwork;

constexpr double kDegree = 57.29577951308232;

/// Every kind of pole at once: ends, corners, junctions, a cross, bends, routes, a loop.
DrawnNetwork town() {
    DrawnNetwork drawn(R"(
A---B---C---D---+
        |\      |
        | E     F---G
        |           |
H---I---J---K-------+
    |   |
    +---L---M
)");
    drawn.add_pole('N', {200, 0.3});
    drawn.add_pole('O', {240, 1.5});
    drawn.add_span({{160, 60}, {200, 60}, {200, 0}, {240, 0}, {280, 11}});
    drawn.add_pole('P', {280, 11});
    drawn.add_pole('Q', {160, 60});
    drawn.span('C', 'E').circuit = 1;
    drawn.span('B', 'C').circuit = 1;
    drawn.span('I', 'J').voltage_kv = 12;
    return drawn;
}

/// The second network's directions are the first's, turned and perhaps mirrored.
void expect_same(const DrawnNetwork& one,
                 const DrawnNetwork& other,
                 double turn,
                 bool mirrored,
                 double tolerance) {
    const Network a = one.solve();
    const Network b = other.solve();
    for (std::uint32_t i = 0; i < one.poles.size(); ++i) {
        const char name = one.names[i];
        const LineDirection& u = a.direction(i);
        const LineDirection& v = b.direction(other.index(name));
        EXPECT_EQ(u.role, v.role) << name;
        ASSERT_EQ(u.axis.has_value(), v.axis.has_value()) << name;
        ASSERT_EQ(u.deflection.has_value(), v.deflection.has_value()) << name;
        if (u.axis) {
            const double expected = (mirrored ? -1.0 : 1.0) * u.axis.value().degrees() + turn;
            EXPECT_NEAR(std::remainder(v.axis.value().degrees() - expected, 180.0), 0.0, tolerance)
                << name;
        }
        if (u.deflection) {
            EXPECT_NEAR(u.deflection.value().degrees(), v.deflection.value().degrees(), tolerance)
                << name;
        }
    }
}

TEST(Invariance, TheTownHasAllRoles) {
    const Network network = town().solve();
    for (const LineRole role :
         {LineRole::tangent, LineRole::angle, LineRole::dead_end, LineRole::junction}) {
        bool any = false;
        for (std::size_t i = 0; i < network.pole_count(); ++i) {
            any = any || network.direction(i).role == role;
        }
        EXPECT_TRUE(any);
    }
}

TEST(Invariance, TurningTheWorldTurnsTheDirections) {
    for (const double turn : {1.0, 30.0, 90.0, 137.5, 180.0, 271.0}) {
        const double s = std::sin(turn / kDegree);
        const double c = std::cos(turn / kDegree);
        const DrawnNetwork turned = town().moved([&](Point p) {
            return Point{c * p.x + s * p.y + 4e5, c * p.y - s * p.x + 5e6};
        });
        expect_same(town(), turned, turn, false, 1e-6);
    }
}

TEST(Invariance, AMirroredWorldHasMirroredDirections) {
    const DrawnNetwork mirrored = town().moved([](Point p) { return Point{-p.x, p.y}; });
    expect_same(town(), mirrored, 0.0, true, 1e-9);
}

TEST(Invariance, TheWaySpansAreDrawnDoesNotMatter) {
    DrawnNetwork drawn = town();
    for (auto& span : drawn.spans) {
        std::reverse(span.parts[0].begin(), span.parts[0].end());
    }
    expect_same(town(), drawn, 0.0, false, 1e-9);
}

TEST(Invariance, TheOrderOfSpansDoesNotMatter) {
    std::mt19937 random{7};
    for (int round = 0; round < 20; ++round) {
        DrawnNetwork drawn = town();
        std::shuffle(drawn.spans.begin(), drawn.spans.end(), random);
        expect_same(town(), drawn, 0.0, false, 0.0);
    }
}

TEST(Invariance, ARouteIsTheSameAsItsSpans) {
    DrawnNetwork drawn = town();
    const Network network = drawn.solve();
    DrawnNetwork split = drawn;
    split.spans.clear();
    for (const ResolvedSpan& s : network.spans()) {
        testing::DrawnSpan piece = drawn.spans[s.row];
        if (s.path != ResolvedSpan::kWholeFeature) {
            const std::vector<std::span<const Point>> parts(piece.parts.begin(), piece.parts.end());
            piece.parts = {cut_path(parts, network.cuts()[s.path], drawn.ground)};
        }
        split.spans.push_back(piece);
    }
    EXPECT_GT(split.spans.size(), drawn.spans.size());
    expect_same(drawn, split, 0.0, false, 1e-9);
    EXPECT_EQ(split.solve().spans().size(), network.spans().size());
}

TEST(Invariance, PlaneAndEllipsoidAgreeAlsoAcrossThe180thMeridianAndFarNorth) {
    for (const Point centre :
         {Point{-93, 44}, Point{179.999, -17}, Point{-180, 65}, Point{25, 71}, Point{0, 0}}) {
        expect_same(town(), town().on_earth(centre), 0.0, false, 0.01);
    }
}

TEST(Invariance, AcrossThe180thMeridianIsAsAnywhereElse) {
    expect_same(town().on_earth({20, 65}), town().on_earth({179.9985, 65}), 0.0, false, 1e-6);
    // The same places written as longitudes over 180.
    const DrawnNetwork over = town().on_earth({179.9985, 65}).moved([](Point p) {
        return Point{p.x < 0 ? p.x + 360 : p.x, p.y};
    });
    expect_same(town().on_earth({20, 65}), over, 0.0, false, 1e-6);
}

TEST(Invariance, NearThePoleOfTheEarthSpansStillSnap) {
    const DrawnNetwork drawn = DrawnNetwork("A---B---C").on_earth({30, 89.5});
    EXPECT_EQ(drawn.at('B').role, LineRole::tangent);
}

TEST(Invariance, FeetAndMetresAgree) {
    DrawnNetwork feet = town().moved([](Point p) { return Point{p.x / 0.3048, p.y / 0.3048}; });
    feet.ground = Ground::planar(0.3048);
    expect_same(town(), feet, 0.0, false, 1e-6);
    EXPECT_NEAR(feet.solve().spans()[0].length_m, town().solve().spans()[0].length_m, 1e-9);
}

TEST(Invariance, NamesThatAgreeWithTheDrawingChangeNothing) {
    DrawnNetwork drawn = town();
    const Network network = drawn.solve();
    for (const ResolvedSpan& s : network.spans()) {
        if (s.path == ResolvedSpan::kWholeFeature) {
            drawn.spans[s.row].from = drawn.names[s.from];
            drawn.spans[s.row].to = drawn.names[s.to];
        }
    }
    expect_same(town(), drawn, 0.0, false, 0.0);
}

}  // namespace
}  // namespace linewood
