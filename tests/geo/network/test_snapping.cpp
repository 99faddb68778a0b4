#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::count;
using testing::DrawnNetwork;
using ::testing::ElementsAre;
using testing::kNowhere;

/// The spans as "AB" pairs of letters, '.' where there is no pole.
std::vector<std::string> ends_of(const DrawnNetwork& drawn, const Network& network) {
    std::vector<std::string> all;
    for (const ResolvedSpan& s : network.spans()) {
        const auto letter = [&](std::uint32_t pole) {
            return pole == kNone ? '.' : drawn.names[pole];
        };
        all.push_back({letter(s.from), letter(s.to)});
    }
    return all;
}
std::vector<std::string> ends_of(const DrawnNetwork& drawn) {
    return ends_of(drawn, drawn.solve());
}

DrawnNetwork poles_in_a_row(int count) {
    DrawnNetwork drawn;
    for (int i = 0; i < count; ++i) {
        drawn.add_pole(static_cast<char>('A' + i), {40.0 * i, 0.0});
    }
    return drawn;
}

TEST(Snapping, AnEndBelongsToAPoleWithinTwoMetres) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_span({{0, 2.0}, {41.9, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB"));
    drawn.spans[0].parts[0] = {{0, 2.01}, {40, -2.01}};
    EXPECT_THAT(ends_of(drawn), ElementsAre(".."));
    EXPECT_EQ(count(drawn.solve(), "span_end_unsnapped"), 2);
    drawn.settings.snap_tolerance = Length::metres(2.5);
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB"));
}

TEST(Snapping, OneEndWithoutAPoleIsKeptNull) {
    DrawnNetwork drawn("A---B---.");
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "B."));
    EXPECT_NEAR(network.spans()[1].length_m, 40, 1e-9);
    EXPECT_NEAR(network.spans()[1].azimuth.value().degrees(), 90, 1e-9);
    EXPECT_EQ(network.direction(1).role, LineRole::dead_end);
    const Findings findings = network.findings();
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].code, "span_end_unsnapped");
    EXPECT_EQ(findings[0].severity, Severity::warning);
    EXPECT_EQ(findings[0].field, "to_pole");
    EXPECT_EQ(findings[0].row, 1);
    EXPECT_EQ(findings[0].place->x, 80.0);
}

TEST(Snapping, AServiceOrGuyMayEndWithoutAPole) {
    DrawnNetwork drawn("A---.   .--.");
    drawn.spans[0].kind = SpanKind::service;
    EXPECT_EQ(count(drawn.solve(), "span_end_unsnapped"), 0);
    EXPECT_THAT(ends_of(drawn), ElementsAre("A."));
    drawn.add_span({{80, 0}, {110, 0}}).kind = SpanKind::guy;
    EXPECT_EQ(count(drawn.solve(), "span_end_unsnapped"), 2);
}

TEST(Snapping, TheNearestPoleWinsAndTheLowerOfEquals) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_pole('C', {41, 0});
    drawn.add_span({{0, 0}, {40.6, 0}}).from = 'A';
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC"));  // B is on the way to C, and cut
    drawn.pole('B') = {40, 0.7};
    EXPECT_THAT(ends_of(drawn), ElementsAre("AC"));
    EXPECT_EQ(count(drawn.solve(), "snap_ambiguous"), 1);
    drawn.pole('B') = {40.2, 0};
    drawn.pole('C') = {41.0, 0};
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB"));  // 0.4 m each
    drawn.spans[0].to = 'C';
    EXPECT_EQ(count(drawn.solve(), "snap_ambiguous"), 0);  // the name decides
}

TEST(Snapping, PolesAtTheSamePlaceAreTheFirstOfThem) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_pole('D', {40, 0});
    drawn.add_span({{0, 0}, {80, 0}});
    drawn.add_span({{40, 0}, {80, 0}});
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "BC", "BC"));
    EXPECT_EQ(count(network, "snap_ambiguous"), 1);
    EXPECT_EQ(network.direction(3).role, LineRole::isolated);
}

TEST(Cutting, ARouteIsCutAtThePolesOfItsVertices) {
    DrawnNetwork drawn("A---B---C\n        |\n        D");
    drawn.spans.clear();
    drawn.add_span({{0, 0}, {41, 1}, {79, -1}, {80, -20}});
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "BC", "CD"));
    ASSERT_EQ(network.cuts().size(), 3U);
    EXPECT_EQ(network.cuts()[1], (PathCut{0, {1, 0.0}, {2, 0.0}}));
    EXPECT_EQ(network.direction(1).role, LineRole::tangent);
    EXPECT_EQ(network.direction(2).role, LineRole::angle);
}

TEST(Cutting, ARouteIsCutAtPolesWithinHalfAMetreOfItsInterior) {
    DrawnNetwork drawn = poles_in_a_row(4);
    drawn.pole('B').y = 0.5;
    drawn.pole('C').y = -0.51;
    drawn.add_span({{0, 0}, {120, 0}});
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "BD"));
    EXPECT_NEAR(network.spans()[0].length_m, 40, 1e-9);
    EXPECT_NEAR(network.spans()[1].length_m, 80, 1e-9);
    EXPECT_EQ(network.cuts()[0].end.vertex, 0U);
    EXPECT_NEAR(network.cuts()[0].end.fraction, 1.0 / 3.0, 1e-12);
    EXPECT_EQ(network.cuts()[0].end, network.cuts()[1].begin);
    drawn.settings.interior_cut = Length::metres(0.6);
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC", "CD"));
}

TEST(Cutting, AVertexSnapsFromTwoMetresWhereTheInteriorDoesNot) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.pole('B').y = 1.9;
    drawn.add_span({{0, 0}, {80, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("AC"));
    drawn.spans[0].parts[0] = {{0, 0}, {40, 0}, {80, 0}};
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC"));
}

TEST(Cutting, CrossingLinesDoNotJoin) {
    DrawnNetwork drawn(R"(
    C
    |
A---|---B
    |
    D
)");
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("CD", "AB"));
    EXPECT_EQ(network.direction(drawn.index('A')).role, LineRole::dead_end);
    // A pole at the crossing joins both.
    drawn.add_pole('X', {40, -20});
    EXPECT_THAT(ends_of(drawn), ElementsAre("CX", "XD", "AX", "XB"));
    EXPECT_EQ(drawn.at('X').role, LineRole::junction);
}

TEST(Cutting, VerticesInARowAtOnePoleAreOneCut) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_span({{0, 0}, {1, 0}, {38.5, 0}, {39.5, 0}, {40.2, 0}, {41, 0}, {79, 0}, {80, 0}});
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "BC"));
    EXPECT_EQ(network.cuts()[0], (PathCut{0, {0, 0.0}, {4, 0.0}}));
    EXPECT_EQ(network.cuts()[1], (PathCut{0, {4, 0.0}, {7, 0.0}}));
}

TEST(Cutting, PolesAtTheSamePlaceAlongTheLineCutItOnce) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.pole('B').y = 0.4;
    drawn.add_pole('D', {40, -0.3});
    drawn.add_span({{0, 0}, {80, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("AD", "DC"));
    EXPECT_EQ(count(drawn.solve(), "snap_ambiguous"), 1);
    // Further apart along the line both are poles of it.
    drawn.pole('D').x = 41;
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BD", "DC"));
}

TEST(Cutting, APoleInsideABendIsCutOnce) {
    DrawnNetwork drawn;
    drawn.add_pole('A', {-40, 0});
    drawn.add_pole('B', {0.0, 0.0});
    drawn.add_pole('C', {-0.4, -0.4});  // within half a metre of both legs, B is at the bend
    drawn.add_pole('D', {0, -40});
    drawn.add_span({{-40, 0}, {0, 0}, {0, -40}});
    const std::vector<std::string> ends = ends_of(drawn);
    EXPECT_EQ(
        std::count_if(ends.begin(), ends.end(), [](const std::string& s) { return s[0] == 'C'; }),
        1);
}

TEST(Cutting, APoleWithAVertexIsNotCutAgainWhileThePathStaysBesideIt) {
    DrawnNetwork drawn;
    drawn.add_pole('A', {0, 40});
    drawn.add_pole('X', {0, 0.3});
    drawn.add_pole('Y', {-1.2, 0});
    drawn.add_pole('B', {40, 0});
    drawn.add_span({{0, 40}, {0, 1}, {-1, 0}, {40, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("AX", "XY", "YB"));
    std::reverse(drawn.spans[0].parts[0].begin(), drawn.spans[0].parts[0].end());
    EXPECT_THAT(ends_of(drawn), ElementsAre("BY", "YX", "XA"));
}

TEST(Cutting, ARouteThatComesByTwiceIsCutTwice) {
    DrawnNetwork drawn(R"(
A---B---C
    |   |
    E---D
)");
    drawn.spans.clear();
    drawn.add_span({{0, 0}, {40, 0}, {80, 0}, {80, -20}, {40, -20}, {40, 0}, {0, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC", "CD", "DE", "EB", "BA"));
    EXPECT_EQ(count(drawn.solve(), "span_doubled"), 1);
}

TEST(Cutting, PiecesGiveTheOriginalGeometryAgain) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.pole('B') = {40, 0.2};
    drawn.add_span({{0, 0}, {20, 10}, {20, 0}, {60, 0}, {80, 0}});
    for (const bool backwards : {false, true}) {
        drawn.spans[0].from = backwards ? 'C' : 'A';
        drawn.spans[0].to = backwards ? 'A' : 'C';
        const Network network = drawn.solve();
        EXPECT_THAT(ends_of(drawn, network),
                    backwards ? ElementsAre("CB", "BA") : ElementsAre("AB", "BC"));
        const std::vector<Point>& part = drawn.spans[0].parts[0];
        const std::span<const Point> view{part};
        const ResolvedSpan first = network.spans()[backwards ? 1 : 0];
        const ResolvedSpan second = network.spans()[backwards ? 0 : 1];
        EXPECT_EQ(first.drawn_backwards, backwards ? 1U : 0U);
        EXPECT_THAT(cut_path({&view, 1}, network.cuts()[first.path], drawn.ground),
                    ElementsAre(Point{0, 0}, Point{20, 10}, Point{20, 0}, Point{40, 0}));
        EXPECT_THAT(cut_path({&view, 1}, network.cuts()[second.path], drawn.ground),
                    ElementsAre(Point{40, 0}, Point{60, 0}, Point{80, 0}));
    }
}

TEST(Cutting, ALongRouteCountsItsLengthAlongThePath) {
    DrawnNetwork drawn("A---+\n    |\n    +---B");
    const Network network = drawn.solve();
    EXPECT_NEAR(network.spans()[0].length_m, 100, 1e-9);
    EXPECT_EQ(network.spans()[0].path, ResolvedSpan::kWholeFeature);
}

using Random = std::mt19937;

double between(Random& random, double low, double high) {
    return std::uniform_real_distribution<double>{low, high}(random);
}

/// Far enough apart that no vertex is near two.
std::vector<Point> poles_apart(Random& random) {
    std::vector<Point> poles;
    while (poles.size() < 60) {
        const Point p{between(random, 0, 200), between(random, 0, 200)};
        if (std::all_of(poles.begin(), poles.end(), [&](Point q) {
                return std::hypot(p.x - q.x, p.y - q.y) > 8;
            })) {
            poles.push_back(p);
        }
    }
    return poles;
}

/// Every other vertex is near a pole.
std::vector<Point> route_among(const std::vector<Point>& poles, Random& random) {
    std::vector<Point> route(12);
    for (std::size_t i = 0; i < route.size(); ++i) {
        route[i] = i % 2 == 0 ? Point{between(random, 0, 200), between(random, 0, 200)}
                              : Point{poles[i].x + between(random, -2.5, 2.5),
                                      poles[i].y + between(random, -2.5, 2.5)};
    }
    return route;
}

bool route_meets(const std::vector<Point>& route, Point pole) {
    bool meets = false;
    for (std::size_t i = 0; i < route.size(); ++i) {
        const Point next = route[std::min(i + 1, route.size() - 1)];
        const double ax = pole.x - route[i].x;
        const double ay = pole.y - route[i].y;
        const double dx = next.x - route[i].x;
        const double dy = next.y - route[i].y;
        const double t = (ax * dx + ay * dy) / (dx * dx + dy * dy);
        const bool beside = t >= 0 && t <= 1 && std::hypot(ax - t * dx, ay - t * dy) <= 0.5;
        meets = meets || beside || std::hypot(ax, ay) <= 2.0;
    }
    return meets;
}

TEST(Cutting, AgreesWithAllPairsOnRandomRoutes) {
    Random random{3};
    std::size_t cut = 0;
    for (int round = 0; round < 200; ++round) {
        const std::vector<Point> poles = poles_apart(random);
        const std::vector<Point> route = route_among(poles, random);
        std::set<std::uint32_t> expected;
        for (std::uint32_t p = 0; p < poles.size(); ++p) {
            if (route_meets(route, poles[p])) {
                expected.insert(p);
            }
        }
        DrawnNetwork drawn;
        drawn.poles = poles;
        drawn.add_span(route);
        const Network network = drawn.solve();
        std::set<std::uint32_t> found;
        for (const ResolvedSpan& s : network.spans()) {
            found.insert(s.from);
            found.insert(s.to);
        }
        found.erase(kNone);
        EXPECT_EQ(found, expected) << round;
        cut += expected.size();
    }
    EXPECT_GT(cut, 800U);
}

TEST(Names, WinOverGeometry) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_pole('D', {0, 30});
    drawn.add_span({{0, 0}, {40, 0}});
    drawn.spans[0].from = 'D';
    drawn.spans[0].to = 'C';
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("DC"));
    const Findings findings = network.findings();
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_EQ(findings[0].code, "span_end_far");
    EXPECT_EQ(findings[0].field, "from_pole");
    EXPECT_EQ(findings[0].value, "named");
    EXPECT_THAT(findings[0].message, ::testing::HasSubstr("30.00 m"));
    EXPECT_THAT(findings[0].message, ::testing::HasSubstr("the pole named was taken"));
    EXPECT_EQ(findings[1].field, "to_pole");
    EXPECT_NEAR(
        network.direction(3).axis.value().degrees(), std::atan2(80, -30) * 57.29577951308232, 1e-9);
}

TEST(Names, BeyondTheLimitGeometryIsUsedWhereItHasAPole) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_pole('F', {0, 5000});
    drawn.add_span({{0, 0}, {40, 0}}).from = 'F';
    drawn.add_span({{40, 0}, {20, 0}}).to = 'F';
    EXPECT_THAT(ends_of(drawn), ElementsAre("FB", "BF"));
    drawn.settings.id_distance_limit = Length::metres(50);
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BF"));
    const Findings findings = drawn.solve().findings();
    ASSERT_EQ(findings.size(), 2U);
    EXPECT_THAT(findings[0].message, ::testing::HasSubstr("drawn end was taken"));
    EXPECT_THAT(findings[1].message, ::testing::HasSubstr("the pole named was taken"));
}

TEST(Names, APathDrawnBackwardsIsNoFinding) {
    DrawnNetwork drawn = poles_in_a_row(4);
    drawn.add_span({{120, 0}, {80, 0}, {40, 0}, {0, 0}});
    drawn.spans[0].from = 'A';
    drawn.spans[0].to = 'D';
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB", "BC", "CD"));
    EXPECT_TRUE(network.findings().empty());
    for (const ResolvedSpan& s : network.spans()) {
        EXPECT_EQ(s.drawn_backwards, 1U);
        EXPECT_NEAR(s.azimuth.value().degrees(), 90, 1e-9);
    }
    EXPECT_EQ(network.cuts()[0], (PathCut{0, {2, 0.0}, {3, 0.0}}));
}

TEST(Names, OneNameIsEnoughToTurnThePath) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_span({{40, 0}, {0, 0}}).from = 'A';
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB"));
    drawn.spans[0].from = 0;
    drawn.spans[0].to = 'A';
    EXPECT_THAT(ends_of(drawn), ElementsAre("BA"));
    EXPECT_TRUE(drawn.solve().findings().empty());
}

TEST(Names, WithoutNamesTheDrawingGivesFromAndTo) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_span({{40, 0}, {0, 0}});
    EXPECT_THAT(ends_of(drawn), ElementsAre("BA"));
    EXPECT_NEAR(drawn.solve().spans()[0].azimuth.value().degrees(), 270, 1e-9);
}

TEST(Names, AnUnknownNameLeavesItToGeometryWithAFinding) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_span({{0, 0}, {40, 0}});
    drawn.spans[0].from = 'Q';
    drawn.spans[0].to = 'B';
    const Network network = drawn.solve();
    EXPECT_THAT(ends_of(drawn, network), ElementsAre("AB"));
    const Findings findings = network.findings();
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings[0].code, "span_pole_unknown");
    EXPECT_EQ(findings[0].value, "named");
    EXPECT_EQ(findings[0].field, "from_pole");
    EXPECT_EQ(findings[0].layer, InputLayer::spans);
}

TEST(Names, BesideAnEndNamedFromAfarNoOtherPoleIsCut) {
    DrawnNetwork drawn = poles_in_a_row(2);
    drawn.add_pole('C', {0, 20});
    drawn.pole('A') = {0.3, 0};
    drawn.add_span({{0, 0}, {40, 0}}).from = 'C';
    EXPECT_THAT(ends_of(drawn), ElementsAre("CB"));
}

TEST(Names, RouteWithNamesIsStillCutAtItsPoles) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_span({{0, 0}, {80, 0}});
    drawn.spans[0].from = 'A';
    drawn.spans[0].to = 'C';
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC"));
}

TEST(Names, APoleWithoutAPlaceIsJoinedByNameOnly) {
    DrawnNetwork drawn = poles_in_a_row(3);
    drawn.add_span({{0, 0}, {40, 0}});
    drawn.add_span({{40, 0}, {80, 0}});
    drawn.pole('B') = kNowhere;
    EXPECT_THAT(ends_of(drawn), ElementsAre("A.", ".C"));
    EXPECT_EQ(drawn.at('B').role, LineRole::isolated);
    drawn.spans[0].to = 'B';
    drawn.spans[1].from = 'B';
    EXPECT_THAT(ends_of(drawn), ElementsAre("AB", "BC"));
    EXPECT_EQ(drawn.at('B').role, LineRole::tangent);  // the drawn ends stand for its point
    EXPECT_EQ(drawn.at('A').role, LineRole::dead_end);
}

}  // namespace
}  // namespace linewood
