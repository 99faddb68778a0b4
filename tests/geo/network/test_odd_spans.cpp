#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::count;
using testing::DrawnNetwork;
using testing::DrawnSpan;
using testing::kNowhere;

constexpr double kInfinite = std::numeric_limits<double>::infinity();

/// A, B, C 40 m apart; B joined to both unless the test says otherwise.
DrawnNetwork line_of_three() { return DrawnNetwork("A---B---C"); }

TEST(OddSpans, ZeroLengthIsKeptAndNoNeighbour) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_span({{40, 0}, {40, 0}});
    drawn.add_span({{60, 5}, {60, 5}});
    drawn.add_span({{40, 0}});
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 5U);
    EXPECT_EQ(count(network, "span_zero_length"), 3);
    EXPECT_EQ(network.spans()[2].from, 1U);
    EXPECT_EQ(network.spans()[2].to, 1U);
    EXPECT_EQ(network.spans()[3].from, kNone);
    EXPECT_EQ(network.spans()[3].to, kNone);
    EXPECT_EQ(network.spans()[4].to, 1U);
    EXPECT_EQ(network.spans()[2].length_m, 0.0);
    EXPECT_FALSE(network.spans()[2].azimuth);
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
}

TEST(OddSpans, APathOfOnePointBetweenTwoNamesIsASpan) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans.clear();
    DrawnSpan& span = drawn.add_span({{40, 0}});
    span.from = 'A';
    span.to = 'B';
    const Network network = drawn.solve();
    EXPECT_EQ(network.spans()[0].from, 0U);
    EXPECT_EQ(network.spans()[0].to, 1U);
    EXPECT_EQ(network.direction(0).role, LineRole::dead_end);
}

TEST(OddSpans, ALoopBackToItsPoleIsKeptAndNoNeighbour) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_span({{40, 0}, {50, 20}, {30, 20}, {40, 0}});
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 3U);
    EXPECT_EQ(network.spans()[2].from, network.spans()[2].to);
    EXPECT_GT(network.spans()[2].length_m, 60);
    EXPECT_EQ(count(network, "span_closes_on_itself"), 1);
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
    EXPECT_EQ(network.neighbours(1).size(), 2U);
}

TEST(OddSpans, BothEndsNamedTheSameIsNoNeighbour) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans[1].from = 'B';
    drawn.spans[1].to = 'B';
    const Network network = drawn.solve();
    EXPECT_EQ(network.direction(1).role, LineRole::dead_end);
    EXPECT_EQ(count(network, "span_closes_on_itself"), 1);
}

TEST(OddSpans, AShortStubAtOnePoleIsNoNeighbour) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_span({{40, 0}, {40, 1.5}});
    const Network network = drawn.solve();
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
    EXPECT_EQ(count(network, "span_closes_on_itself"), 1);
}

TEST(OddSpans, PartsOutOfOrderAreJoinedBeforeTheNamesAreTaken) {
    const std::vector<std::vector<Point>> orders[] = {
        {{{80, 0}, {120, 0}}, {{0, 0}, {40, 0}, {80, 0}}},
        {{{0, 0}, {40, 0}, {80, 0}}, {{80, 0}, {120, 0}}},
        {{{80, 0}, {120, 0}}, {{0, 0}, {40, 0}}, {{40, 0}, {80, 0}}},
    };
    for (const auto& parts : orders) {
        for (const bool swapped : {false, true}) {
            DrawnNetwork drawn("A   B   C   D");
            DrawnSpan& span = drawn.add_span({});
            span.parts = parts;
            span.from = swapped ? 'D' : 'A';
            span.to = swapped ? 'A' : 'D';
            const Network network = drawn.solve();
            EXPECT_EQ(network.spans().size(), 3U);
            EXPECT_EQ(count(network, "span_end_far"), 0);
            EXPECT_EQ(network.direction(0).role, LineRole::dead_end);
            EXPECT_EQ(network.direction(1).role, LineRole::tangent);
            EXPECT_EQ(network.direction(2).role, LineRole::tangent);
            EXPECT_EQ(network.direction(3).role, LineRole::dead_end);
            EXPECT_EQ(network.spans()[0].from, swapped ? 3U : 0U);
        }
    }
}

TEST(OddSpans, PartsThatMakeNoChainStayInTheOrderDrawn) {
    DrawnNetwork drawn("A   B   C   D");
    DrawnSpan& span = drawn.add_span({});
    span.parts = {{{80, 0}, {120, 0}}, {{0, 0}, {40, 0}}};
    span.from = 'C';
    span.to = 'B';
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 2U);
    EXPECT_EQ(network.spans()[0].from, 2U);
    EXPECT_EQ(network.spans()[1].to, 1U);
}

TEST(OddSpans, RepeatedVerticesChangeNothing) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans[0].parts[0] = {{0, 0}, {0, 0}, {20, 0}, {20, 0}, {40, 0}, {40, 0}};
    const Network network = drawn.solve();
    EXPECT_EQ(network.spans().size(), 2U);
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
    EXPECT_TRUE(network.findings().empty());
}

TEST(OddSpans, PartsArePathsOfTheirOwn) {
    DrawnNetwork drawn("A---B   C---D");
    drawn.spans.clear();
    DrawnSpan span;
    span.parts = {{{0, 0}, {40, 0}}, {}, {{80, 0}, {120, 0}}};
    drawn.spans.push_back(span);
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 2U);
    EXPECT_EQ(network.spans()[0].to, 1U);
    EXPECT_EQ(network.spans()[1].from, 2U);
    EXPECT_EQ(network.cuts()[1], (PathCut{2, {0, 0.0}, {1, 0.0}}));
    EXPECT_EQ(network.direction(1).role, LineRole::dead_end);
    // Names are for the first part's beginning and the last part's end; here drawn backwards.
    drawn.spans[0].from = 'D';
    drawn.spans[0].to = 'A';
    const Network backwards = drawn.solve();
    EXPECT_EQ(backwards.spans()[0].from, 3U);
    EXPECT_EQ(backwards.spans()[1].to, 0U);
    EXPECT_TRUE(backwards.findings().empty());
}

TEST(OddSpans, WithoutGeometryTheNamesAreJoinedStraight) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans.clear();
    DrawnSpan span;
    span.from = 'A';
    span.to = 'C';
    drawn.spans.push_back(span);
    span.parts = {{}};
    span.to = 0;
    drawn.spans.push_back(span);
    span.from = 0;
    drawn.spans.push_back(span);
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 3U);
    EXPECT_NEAR(network.spans()[0].length_m, 80, 1e-9);
    EXPECT_NEAR(network.spans()[0].azimuth.value().degrees(), 90, 1e-9);
    EXPECT_EQ(network.spans()[1].from, 0U);
    EXPECT_EQ(network.spans()[1].to, kNone);
    EXPECT_TRUE(std::isnan(network.spans()[1].length_m));
    EXPECT_EQ(network.spans()[2].from, kNone);
    EXPECT_EQ(count(network, "span_without_geometry"), 3);
    EXPECT_EQ(network.direction(2).role, LineRole::dead_end);
    EXPECT_EQ(network.direction(1).role, LineRole::isolated);
}

TEST(OddSpans, CoordinatesThatAreNoPlaceLeaveTheSpanUnsnapped) {
    for (const Point bad :
         {kNowhere, Point{kInfinite, 0}, Point{40, -kInfinite}, Point{1e300, 0}}) {
        DrawnNetwork drawn = line_of_three();
        drawn.spans[1].parts[0].back() = bad;
        const Network network = drawn.solve();
        ASSERT_EQ(network.spans().size(), 2U);
        EXPECT_EQ(network.spans()[1].from, kNone);
        EXPECT_EQ(network.spans()[1].to, kNone);
        EXPECT_TRUE(std::isnan(network.spans()[1].length_m));
        EXPECT_FALSE(network.spans()[1].azimuth);
        EXPECT_EQ(count(network, "span_coordinates_invalid"), 1);
        ASSERT_EQ(network.findings().size(), 1U);
        EXPECT_EQ(network.findings()[0].place.value().x, 40.0);  // of the vertex that is a place
        // Two names stand, whatever is drawn.
        drawn.spans[1].from = 'B';
        drawn.spans[1].to = 'C';
        EXPECT_EQ(drawn.at('B').role, LineRole::tangent);
    }
}

TEST(OddSpans, ABadPartIsKeptBesideGoodOnes) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans[0].parts.insert(drawn.spans[0].parts.begin(), {{0, 0}, kNowhere});
    const Network network = drawn.solve();
    ASSERT_EQ(network.spans().size(), 3U);
    EXPECT_EQ(network.spans()[0].to, 1U);
    EXPECT_EQ(network.spans()[1].from, kNone);
    EXPECT_EQ(network.cuts()[network.spans()[1].path].part, 0U);
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
}

TEST(OddSpans, LatitudesOver90AreNoPlace) {
    DrawnNetwork drawn;
    drawn.ground = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
    drawn.add_pole('A', {10, 91});
    drawn.add_pole('B', {10, 60});
    drawn.add_span({{10, 91}, {10, 60}});
    const Network network = drawn.solve();
    EXPECT_EQ(count(network, "span_coordinates_invalid"), 1);
    EXPECT_EQ(network.direction(0).role, LineRole::isolated);
}

TEST(OddSpans, HugeCoordinatesAndLongLinesAreNoTrouble) {
    DrawnNetwork drawn = line_of_three().moved([](Point p) { return Point{p.x + 5e8, p.y - 7e8}; });
    EXPECT_EQ(drawn.at('B').role, LineRole::tangent);
    drawn.add_span({{-9e14, 3}, {9e14, 8e14}});  // looks at every pole, not at every cell
    drawn.add_span({{5e8 + 40, -7e8}, {-9e14, -9e14}});
    EXPECT_EQ(drawn.at('B').role, LineRole::tangent);
    EXPECT_EQ(drawn.solve().spans().size(), 4U);
}

TEST(OddSpans, TwoPolesAtOnePlaceJoinedByNameAreNoNeighbours) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_pole('D', drawn.pole('B'));
    DrawnSpan span;
    span.from = 'B';
    span.to = 'D';
    drawn.spans.push_back(span);
    const Network network = drawn.solve();
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
    EXPECT_EQ(network.direction(3).role, LineRole::isolated);
    EXPECT_EQ(count(network, "span_zero_length"), 1);
}

TEST(OddSpans, NothingAtAll) {
    DrawnNetwork drawn;
    EXPECT_EQ(drawn.solve().pole_count(), 0U);
    drawn.add_span({{0, 0}, {10, 0}});
    EXPECT_EQ(drawn.solve().spans().size(), 1U);
    DrawnNetwork poles("A   B");
    EXPECT_EQ(poles.at('A').role, LineRole::isolated);
    EXPECT_TRUE(poles.solve().findings().empty());
}

TEST(OddSpans, DegreesTakenForMetresAreNoticed) {
    // Twenty poles of a street in degrees, read as metres: everything within 2 m of everything.
    DrawnNetwork drawn;
    for (int i = 0; i < 20; ++i) {
        drawn.add_pole(static_cast<char>('A' + i), {-93.0 + 0.0005 * i, 44.0});
    }
    drawn.add_span({drawn.pole('A'), drawn.pole('T')});
    drawn.add_span({drawn.pole('A'), drawn.pole('B')});
    drawn.spans[1].from = 'A';
    drawn.spans[1].to = 'B';
    const Network network = drawn.solve();
    const Findings findings = network.findings();
    ASSERT_FALSE(findings.empty());
    EXPECT_EQ(findings[0].code, "poles_too_dense");
    EXPECT_EQ(findings[0].severity, Severity::error);
    EXPECT_EQ(findings[0].row, -1);
    EXPECT_EQ(network.spans().size(), 2U);
    EXPECT_EQ(network.spans()[0].from, kNone);
    EXPECT_EQ(network.spans()[1].to, 1U);
    EXPECT_EQ(network.direction(1).role, LineRole::dead_end);
}

TEST(Findings, ComeInTheOrderOfTheRows) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_span({{40, 0}, {0, 0}});    // doubled, found at the end
    drawn.add_span({{80, 0}, {100, 0}});  // unsnapped
    drawn.spans[0].from = 'Q';
    std::vector<std::int64_t> rows;
    for (const Finding& f : drawn.solve().findings()) {
        rows.push_back(f.row);
        EXPECT_FALSE(f.message.empty());
    }
    EXPECT_THAT(rows, ::testing::ElementsAre(0, 2, 3));
}

TEST(Findings, HaveTheirPlaceOnTheMap) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans[0].from = 'Q';                    // unknown: where the end is drawn
    drawn.add_span({{40, 0}, {80, 0}});           // doubled: half-way
    drawn.add_span({{40, 0}, {40, 0}});           // no length
    drawn.add_span({{80, 0}, {90, 9}, {80, 0}});  // closes
    drawn.add_span({{80, 0}, {40, 0}}).parts[0][1].x = kInfinite;
    drawn.spans.back().from = 'C';        // not usable: at the pole named
    drawn.spans.emplace_back().to = 'B';  // nothing drawn: likewise
    const Findings findings = drawn.solve().findings();
    const auto place = [&](std::string_view code) {
        for (const Finding& f : findings) {
            if (f.code == code) {
                return f.place.value_or(Place{-1, -1}).x;
            }
        }
        return -2.0;
    };
    EXPECT_EQ(place("span_pole_unknown"), 0.0);
    EXPECT_EQ(place("span_doubled"), 60.0);
    EXPECT_EQ(place("span_zero_length"), 40.0);
    EXPECT_EQ(place("span_closes_on_itself"), 80.0);
    EXPECT_EQ(place("span_coordinates_invalid"), 80.0);
    EXPECT_EQ(place("span_without_geometry"), 40.0);
}

TEST(Findings, NameTheirFieldAndValueWhereThereAre) {
    DrawnNetwork drawn = line_of_three();
    drawn.add_pole('D', {81, 0});                 // near C: which one is meant?
    drawn.add_span({{40, 0}, {80, 0}});           // doubled
    drawn.add_span({{40, 0}, {40, 0}});           // no length
    drawn.add_span({{80, 0}, {90, 9}, {80, 0}});  // closes
    drawn.spans.emplace_back().to = 'B';          // nothing drawn
    std::vector<std::string> told;
    drawn.solve().each_finding(
        [&](Finding&& f) {
            if (f.code != kFindingSnapAmbiguous.code || f.row == 1) {
                told.push_back(std::string{f.code} + " " + f.field + "=" + f.value);
            }
            if (f.code == kFindingSpanDoubled.code) {
                EXPECT_NE(f.message.find("it joins B and C"), std::string::npos) << f.message;
            }
        },
        [](std::uint32_t pole) { return std::string(1, static_cast<char>('A' + pole)); });
    EXPECT_THAT(told,
                ::testing::UnorderedElementsAre("snap_ambiguous to_pole=C",
                                                "span_doubled from_pole=B",
                                                "span_zero_length geometry=0.000 m",
                                                "span_closes_on_itself to_pole=C",
                                                "span_without_geometry geometry="));
}

TEST(Findings, AnEndLeftOverShowsHowFarThePoleIs) {
    DrawnNetwork drawn = line_of_three();
    drawn.spans[1].parts[0].back() = {82.004, 0};
    EXPECT_EQ(drawn.solve().findings().at(0).value, "2.004 m");
}

TEST(Findings, AllCodesAreDifferentAndExplained) {
    for (std::size_t i = 0; i < kNetworkFindingCodes.size(); ++i) {
        EXPECT_FALSE(kNetworkFindingCodes[i].meaning.empty());
        for (std::size_t j = 0; j < i; ++j) {
            EXPECT_NE(kNetworkFindingCodes[i].code, kNetworkFindingCodes[j].code);
        }
    }
}

}  // namespace
}  // namespace linewood
