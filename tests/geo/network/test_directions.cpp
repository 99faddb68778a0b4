#include <cmath>

#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::count;
using testing::DrawnNetwork;

/// Contract section 3, on networks drawn as text. Axes in degrees, NaN: none.
struct Expected {
    char pole;
    LineRole role;
    double axis;
    double deflection;
};

constexpr double kNo = std::numeric_limits<double>::quiet_NaN();

void expect_lines(const DrawnNetwork& drawn,
                  std::initializer_list<Expected> all,
                  double tolerance = 1e-9) {
    const Network network = drawn.solve();
    for (const Expected& e : all) {
        const LineDirection& line = network.direction(drawn.index(e.pole));
        EXPECT_EQ(line.role, e.role) << e.pole;
        ASSERT_EQ(line.axis.has_value(), !std::isnan(e.axis)) << e.pole;
        ASSERT_EQ(line.deflection.has_value(), !std::isnan(e.deflection)) << e.pole;
        if (line.axis) {
            EXPECT_NEAR(std::remainder(line.axis.value().degrees() - e.axis, 180.0), 0.0, tolerance)
                << e.pole;
        }
        if (line.deflection) {
            EXPECT_NEAR(line.deflection.value().degrees(), e.deflection, tolerance) << e.pole;
        }
        EXPECT_EQ(line.source, e.role == LineRole::isolated ? LineSource::none : LineSource::spans)
            << e.pole;
    }
}

TEST(Directions, StraightLineWithATap) {
    expect_lines(DrawnNetwork(R"(
A---B---C---D   X
        |
        E
)"),
                 {{'A', LineRole::dead_end, 90, kNo},
                  {'B', LineRole::tangent, 90, 0},
                  {'C', LineRole::junction, 90, 0},
                  {'D', LineRole::dead_end, 90, kNo},
                  {'E', LineRole::dead_end, 0, kNo},
                  {'X', LineRole::isolated, kNo, kNo}});
}

TEST(Directions, CornersOfAllSizes) {
    expect_lines(DrawnNetwork(R"(
A---B       H---G
    |        \ /
    |         F
    C
     \
      D
)"),
                 {{'B', LineRole::angle, 135, 90},
                  {'C', LineRole::angle, 157.5, 45},
                  {'F', LineRole::angle, 90, 90},
                  {'G', LineRole::angle, 157.5, 135},
                  {'H', LineRole::angle, 22.5, 135}});
}

TEST(Directions, RightAngledCornerIsExact) {
    const LineDirection line = DrawnNetwork("A---B\n    |\n    C").at('B');
    EXPECT_DOUBLE_EQ(line.axis.value().degrees(), 135.0);
    EXPECT_DOUBLE_EQ(line.deflection.value().degrees(), 90.0);
}

TEST(Directions, BothNeighboursInTheSameDirectionTurnTheAxisAcross) {
    // A bend brings the far neighbour's line back the same way: u2 - u1 vanishes.
    DrawnNetwork drawn("A---B---C");
    drawn.spans.clear();
    drawn.add_span({drawn.pole('A'), drawn.pole('B')});
    drawn.add_span({drawn.pole('A'), {60, 0}, {60, 20}, drawn.pole('C')}).from = 'A';
    drawn.pole('C') = {100, 20};
    drawn.spans.back().parts[0].back() = {100, 20};
    drawn.pole('B') = {40, 0.6};  // beside the second line's path, outside the cut tolerance
    drawn.spans.front().parts[0].back() = drawn.pole('B');
    const LineDirection line = drawn.at('A');
    EXPECT_EQ(line.role, LineRole::angle);
    EXPECT_NEAR(line.deflection.value().degrees(), 180.0, 1.0);
    EXPECT_NEAR(std::remainder(line.axis.value().degrees(), 180.0), 0.0, 1.0);
}

TEST(Directions, TheLineLeavesThePoleTowardsTheFirstBend) {
    expect_lines(DrawnNetwork(R"(
A---+
    |
    B---C
)"),
                 {{'A', LineRole::dead_end, 90, kNo}, {'B', LineRole::angle, 135, 90}});
    // Two bends: each end sees its own.
    expect_lines(DrawnNetwork(R"(
A---+
     \
      +---B
)"),
                 {{'A', LineRole::dead_end, 90, kNo}, {'B', LineRole::dead_end, 90, kNo}});
}

TEST(Directions, ABendDoesNotMakeASpanOfItsOwn) {
    const Network network = DrawnNetwork("A---+\n    |\n    B").solve();
    ASSERT_EQ(network.spans().size(), 1U);
    EXPECT_NEAR(network.spans()[0].length_m, 60.0, 1e-9);
    EXPECT_NEAR(network.spans()[0].azimuth.value().degrees(), 90.0, 1e-9);
}

TEST(Directions, CollinearVerticesAreNoBends) {
    // The poles stand 1.5 m beside the line drawn: with or without vertices the same direction.
    DrawnNetwork plain;
    plain.add_pole('A', {0, 1.5});
    plain.add_pole('B', {60, -1.5});
    DrawnNetwork dense = plain;
    plain.add_span({{0, 0}, {60, 0}});
    dense.add_span({{0, 0}, {1, 0}, {3, 0}, {10, 0}, {30, 0}, {30, 0}, {50, 0}, {57, 0}, {60, 0}});
    for (const char pole : {'A', 'B'}) {
        EXPECT_EQ(plain.at(pole).axis, dense.at(pole).axis) << pole;
    }
    EXPECT_NEAR(
        plain.at('A').axis.value().degrees(), 90 + std::atan2(3, 60) * 57.29577951308232, 1e-9);
    EXPECT_EQ(dense.solve().spans().size(), 1U);
}

TEST(Directions, AHookWithinTheToleranceOfThePoleIsNoBend) {
    DrawnNetwork drawn("A---B");
    drawn.spans[0].parts[0] = {{0, 0}, {0, -1.5}, {40, -1.5}, {40, 0}};
    expect_lines(drawn, {{'A', LineRole::dead_end, 90, kNo}, {'B', LineRole::dead_end, 90, kNo}});
    drawn.spans[0].parts[0] = {{0, 0}, {0, -2.5}, {40, -2.5}, {40, 0}};
    expect_lines(drawn, {{'A', LineRole::dead_end, 0, kNo}, {'B', LineRole::dead_end, 0, kNo}});
}

TEST(Directions, FromPolesOwnPointToNeighboursOwnPoint) {
    DrawnNetwork drawn;
    drawn.add_pole('A', {0, 1});
    drawn.add_pole('B', {40, 0});
    drawn.add_span({{0, 0}, {41, 1}});
    const double expected = std::atan2(40, -1) * 57.29577951308232;
    EXPECT_NEAR(drawn.at('A').axis.value().degrees(), expected, 1e-9);
    EXPECT_NEAR(drawn.solve().spans()[0].azimuth.value().degrees(), expected, 1e-9);
}

TEST(Directions, DoubledSpansCountOnce) {
    DrawnNetwork drawn("A---B---C");
    drawn.add_span({drawn.pole('C'), drawn.pole('B')});
    const Network network = drawn.solve();
    EXPECT_EQ(network.direction(drawn.index('B')).role, LineRole::tangent);
    EXPECT_EQ(network.direction(drawn.index('C')).role, LineRole::dead_end);
    EXPECT_EQ(network.spans().size(), 3U);
    EXPECT_EQ(count(network, "span_doubled"), 1);
    EXPECT_EQ(network.findings().back().row, 2);
}

TEST(Directions, ServicesAndGuysAreSpansButNoNeighbours) {
    DrawnNetwork drawn(R"(
A---B---C
    |  /
    S G
)");
    drawn.span('B', 'S').kind = SpanKind::service;
    drawn.span('C', 'G').kind = SpanKind::guy;
    expect_lines(drawn,
                 {{'B', LineRole::tangent, 90, 0},
                  {'C', LineRole::dead_end, 90, kNo},
                  {'S', LineRole::isolated, kNo, kNo},
                  {'G', LineRole::isolated, kNo, kNo}});
    EXPECT_EQ(drawn.solve().spans().size(), 4U);
}

TEST(Directions, JunctionTakesTheSameCircuitAroundTheCorner) {
    DrawnNetwork drawn(R"(
        E
       /
A-----B-----C
      |
      D
)");
    // Without circuits the straight pair; with them the pair of one circuit, here over 30 degrees.
    expect_lines(drawn, {{'B', LineRole::junction, 90, 0}});
    drawn.span('A', 'B').circuit = 1;
    drawn.span('B', 'E').circuit = 1;
    expect_lines(drawn, {{'B', LineRole::junction, kNo, kNo}});
    drawn.settings.junction_pair_limit = Angle::degrees(45);
    expect_lines(drawn, {{'B', LineRole::junction, 67.5, 45}});
    drawn.span('B', 'D').circuit = 2;
    drawn.span('B', 'D').voltage_kv = 69;
    drawn.span('B', 'C').circuit = 2;
    drawn.span('B', 'C').voltage_kv = 69;
    expect_lines(drawn, {{'B', LineRole::junction, kNo, kNo}});
}

TEST(Directions, TheTangentLimitAndThePairLimitAreSettings) {
    DrawnNetwork drawn("A---B---C");
    drawn.pole('C') = {80, 40 * std::tan(0.1)};
    drawn.spans[1].parts[0].back() = drawn.pole('C');
    EXPECT_EQ(drawn.at('B').role, LineRole::angle);
    drawn.settings.tangent_limit = Angle::degrees(6);
    EXPECT_EQ(drawn.at('B').role, LineRole::tangent);
}

TEST(Directions, SpanAzimuthsAreGeodesicOnTheEllipsoid) {
    // Meridians meet: at 60 degrees north a span due east by the map bears a little north of east.
    DrawnNetwork drawn;
    drawn.ground = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    drawn.add_pole('A', {10.0, 60.0});
    drawn.add_pole('B', {10.1, 60.0});
    drawn.add_span({drawn.pole('A'), drawn.pole('B')});
    const Network network = drawn.solve();
    const Course course = drawn.ground.course(drawn.pole('A'), drawn.pole('B'));
    EXPECT_DOUBLE_EQ(network.spans()[0].azimuth.value().degrees(), course.start.degrees());
    EXPECT_DOUBLE_EQ(network.spans()[0].length_m, course.length_m);
    EXPECT_LT(course.start.degrees(), 89.97);
    EXPECT_NEAR(network.direction(1).axis.value().degrees(), course.end.degrees(), 1e-9);
}

TEST(Ahead, IsTheWayTheOneLeavingSpanRuns) {
    DrawnNetwork drawn(R"(
A---B---C
        |
        D
)");
    const auto ahead = [&](char pole) { return drawn.solve().ahead(drawn.index(pole)); };
    EXPECT_NEAR(ahead('A')->degrees(), 90, 1e-9);
    EXPECT_NEAR(ahead('B')->degrees(), 90, 1e-9);
    EXPECT_NEAR(ahead('C')->degrees(), 180, 1e-9);
    EXPECT_NEAR(ahead('D')->degrees(), 180, 1e-9);  // arriving, and straight on
}

TEST(Ahead, FollowsTheNamesNotTheDrawing) {
    DrawnNetwork drawn("A---B---C");
    drawn.spans[0].from = 'B';
    drawn.spans[0].to = 'A';
    drawn.spans[1].from = 'C';
    drawn.spans[1].to = 'B';
    for (const char pole : {'A', 'B', 'C'}) {
        EXPECT_NEAR(drawn.solve().ahead(drawn.index(pole))->degrees(), 270, 1e-9) << pole;
    }
}

TEST(Ahead, IsUnknownInConflictAndWithoutAxis) {
    DrawnNetwork drawn(R"(
A---B---C   X
)");
    drawn.spans[1].from = 'C';
    drawn.spans[1].to = 'B';
    EXPECT_FALSE(drawn.solve().ahead(drawn.index('B')));  // both arrive
    drawn.spans[0].from = 'B';
    drawn.spans[1].from = 'B';
    drawn.spans[0].to = 'A';
    drawn.spans[1].to = 'C';
    EXPECT_FALSE(drawn.solve().ahead(drawn.index('B')));  // both leave
    EXPECT_FALSE(drawn.solve().ahead(drawn.index('X')));
    drawn.add_span({drawn.pole('B'), drawn.pole('A')}).from = 'A';
    EXPECT_FALSE(drawn.solve().ahead(drawn.index('A')));  // the doubled span runs both ways
    DrawnNetwork fork("A---B---C\n    |\n    D");
    EXPECT_TRUE(fork.solve().ahead(1));
    fork.settings.junction_pair_limit = Angle::degrees(-1);
    EXPECT_FALSE(fork.solve().ahead(1));
}

TEST(AheadByStation, IsWhereTheStationsRise) {
    constexpr double kNot = std::numeric_limits<double>::quiet_NaN();
    const DrawnNetwork drawn(R"(
A---B---C   X
        |
        D
)");
    const Network network = drawn.solve();
    const auto ahead = [&](char pole, const std::vector<double>& of_a_b_c_d) {
        std::vector<double> stations(network.pole_count(), kNot);
        for (std::size_t i = 0; i < 4; ++i) {
            stations[drawn.index("ABCD"[i])] = of_a_b_c_d[i];
        }
        const auto found = network.ahead_by_station(drawn.index(pole), stations);
        return found ? std::round(found->degrees()) : -1.0;
    };
    const std::vector<double> rising{100, 140, 180, 200};
    const std::vector<double> falling{5, 3, 2, -1};
    EXPECT_EQ(ahead('A', rising), 90);
    EXPECT_EQ(ahead('B', rising), 90);
    EXPECT_EQ(ahead('C', rising), 180);
    EXPECT_EQ(ahead('D', rising), 180);
    EXPECT_EQ(ahead('A', falling), 270);
    EXPECT_EQ(ahead('B', falling), 270);
    EXPECT_EQ(ahead('C', falling), 270);
    EXPECT_EQ(ahead('D', falling), 0);
    EXPECT_EQ(ahead('X', rising), -1);
    // One that is not known is passed over.
    EXPECT_EQ(ahead('B', {100, kNot, 180, 200}), 90);
    EXPECT_EQ(ahead('B', {kNot, 140, 120, 200}), 270);
    EXPECT_EQ(ahead('B', {kNot, 140, kNot, 200}), -1);
    EXPECT_EQ(ahead('A', {kNot, 140, 180, 200}), -1);
    // The top, the bottom and level ground tell nothing.
    EXPECT_EQ(ahead('B', {100, 140, 120, 200}), -1);
    EXPECT_EQ(ahead('B', {100, 40, 120, 200}), -1);
    EXPECT_EQ(ahead('B', {100, 100, 100, 200}), -1);
    EXPECT_FALSE(network.ahead_by_station(drawn.index('B'), {}));
}

TEST(Neighbours, AreListedByAzimuthWithWhatTheirSpansCarry) {
    DrawnNetwork drawn(R"(
A---B---C
    |
    D
)");
    drawn.span('B', 'C').circuit = 3;
    drawn.span('B', 'C').voltage_kv = 12;
    const std::vector<Neighbour> found = drawn.solve().neighbours(drawn.index('B'));
    ASSERT_EQ(found.size(), 3U);
    EXPECT_EQ(found[0].pole, drawn.index('C'));
    EXPECT_EQ(found[1].pole, drawn.index('D'));
    EXPECT_EQ(found[2].pole, drawn.index('A'));
    EXPECT_EQ(found[0].circuits, std::vector<std::uint32_t>{3});
    EXPECT_FLOAT_EQ(found[0].voltage_kv, 12.0F);
    EXPECT_NEAR(found[2].azimuth.degrees(), 270, 1e-9);
    EXPECT_TRUE(found[2].arrives);
    EXPECT_FALSE(found[2].leaves);
}

}  // namespace
}  // namespace linewood
