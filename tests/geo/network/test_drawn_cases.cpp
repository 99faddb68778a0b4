#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

// One drawing for each case that real networks hold: the spans that come of it ('.' is no pole) and the
// role of every pole in alphabetical order (T tangent, A angle, E dead end, J junction, I isolated).
// 10 m a character.

namespace linewood {
namespace {

using testing::count;
using testing::DrawnNetwork;

std::string spans_of(const DrawnNetwork& drawn, const Network& network) {
    std::string all;
    for (const ResolvedSpan& s : network.spans()) {
        all += all.empty() ? "" : " ";
        for (const std::uint32_t pole : {s.from, s.to}) {
            all += pole == kNone ? '.' : drawn.names[pole];
        }
    }
    return all;
}

std::string roles_of(const DrawnNetwork& drawn, const Network& network) {
    std::string roles;
    for (char name = 'A'; name <= 'Z'; ++name) {
        if (drawn.names.find(name) != std::string::npos) {
            const LineRole role = network.direction(drawn.index(name)).role;
            roles += "TAEJI"[static_cast<std::size_t>(role)];
        }
    }
    return roles;
}

void expect_drawn(const DrawnNetwork& drawn, const std::string& spans, const std::string& roles) {
    const Network network = drawn.solve();
    EXPECT_EQ(spans_of(drawn, network), spans);
    EXPECT_EQ(roles_of(drawn, network), roles);
}

double axis_at(const DrawnNetwork& drawn, char pole) {
    return drawn.at(pole).axis.value().degrees();
}

/// The picture with one route along all its letters, in place of its spans.
DrawnNetwork routed(const char* picture, const std::string& letters) {
    DrawnNetwork drawn(picture);
    drawn.spans.clear();
    std::vector<Point> path;
    for (const char letter : letters) {
        path.push_back(drawn.pole(letter));
    }
    drawn.add_span(path);
    return drawn;
}

constexpr const char* kCorner = R"(
A---B---C
        |
        D
)";

TEST(DrawnCases, SpansOfOneFeatureEach) { expect_drawn(DrawnNetwork(kCorner), "AB BC CD", "ETAE"); }

TEST(DrawnCases, ARouteThroughManyPoles) {
    expect_drawn(routed(kCorner, "ABCD"), "AB BC CD", "ETAE");
    // A pole that is no vertex of it, 0.5 m beside; and 0.6 m beside.
    DrawnNetwork drawn = routed(kCorner, "ACD");
    drawn.pole('B').y += 0.5;
    expect_drawn(drawn, "AB BC CD", "ETAE");
    drawn.pole('B').y += 0.1;
    expect_drawn(drawn, "AC CD", "EIAE");
}

TEST(DrawnCases, ABendWithoutAPole) {
    const DrawnNetwork drawn(R"(
A---B---+
        |
        C
        |
        D
)");
    expect_drawn(drawn, "AB BC CD", "ETTE");
    EXPECT_NEAR(axis_at(drawn, 'B'), 90.0, 1e-9);  // towards the bend, not towards C
    EXPECT_NEAR(axis_at(drawn, 'C'), 0.0, 1e-9);
    EXPECT_NEAR(drawn.solve().spans()[1].length_m, 60.0, 1e-9);
}

TEST(DrawnCases, AMultiPartLine) {
    DrawnNetwork drawn(R"(
A---B   C---D
)");
    drawn.spans[0].parts.push_back(drawn.spans[1].parts[0]);
    drawn.spans.pop_back();
    expect_drawn(drawn, "AB CD", "EEEE");
    EXPECT_EQ(drawn.solve().spans()[1].row, 0U);
}

TEST(DrawnCases, SpansWithoutLengthAndSpansThatClose) {
    DrawnNetwork drawn("A---B---C");
    drawn.add_span({drawn.pole('B'), drawn.pole('B')});
    drawn.add_span({{40, 0}, {50, 10}, {60, 0}, {40, 0}});
    expect_drawn(drawn, "AB BC BB BB", "ETE");
    const Network network = drawn.solve();
    EXPECT_EQ(count(network, "span_zero_length"), 1);
    EXPECT_EQ(count(network, "span_closes_on_itself"), 1);
}

TEST(DrawnCases, ADoubledSpan) {
    DrawnNetwork drawn("A---B---C");
    drawn.add_span({drawn.pole('C'), drawn.pole('B')}).circuit = 2;
    expect_drawn(drawn, "AB BC CB", "ETE");
    const Network network = drawn.solve();
    ASSERT_EQ(count(network, "span_doubled"), 1);
    EXPECT_EQ(network.findings()[0].row, 2);
    EXPECT_EQ(network.findings()[0].place->x, 60.0);  // half-way, to be found on the map
}

TEST(DrawnCases, LinesThatCross) {
    DrawnNetwork drawn(R"(
    C
    |
A---|---B
    |
    D
)");
    expect_drawn(drawn, "CD AB", "EEEE");
}

TEST(DrawnCases, ATapToALowerVoltage) {
    // The main line bends towards C, the tap goes straight on to E.
    DrawnNetwork drawn(R"(
A---B---E
        C
)");
    drawn.span('A', 'B').voltage_kv = 22;
    drawn.span('B', 'E').voltage_kv = 0.4F;
    drawn.add_span({drawn.pole('B'), drawn.pole('C')}).voltage_kv = 22;
    expect_drawn(drawn, "AB BE BC", "EJEE");
    const double turn = std::atan2(10.0, 40.0) * 180.0 / std::numbers::pi;
    EXPECT_NEAR(drawn.at('B').deflection.value().degrees(), turn, 1e-9);
    EXPECT_NEAR(axis_at(drawn, 'B'), 90.0 + turn / 2.0, 1e-9);
}

TEST(DrawnCases, TwoCircuitsOnOnePoleLine) {
    DrawnNetwork drawn("A---B---C");
    drawn.spans[0].circuit = drawn.spans[1].circuit = 1;
    drawn.add_span({drawn.pole('A'), drawn.pole('B')}).circuit = 2;
    drawn.add_span({drawn.pole('B'), drawn.pole('C')}).circuit = 2;
    expect_drawn(drawn, "AB BC AB BC", "ETE");
    EXPECT_NEAR(axis_at(drawn, 'B'), 90.0, 1e-9);
    EXPECT_EQ(drawn.solve().neighbours(1)[0].circuits, (std::vector<std::uint32_t>{1, 2}));
}

TEST(DrawnCases, ACornerWhereTwoDeadEndsMeet) {
    DrawnNetwork drawn(R"(
A---B
    |
    C
)");
    drawn.spans[0].circuit = 1;
    drawn.spans[1].circuit = 2;
    expect_drawn(drawn, "AB BC", "EAE");
    EXPECT_NEAR(axis_at(drawn, 'B'), 135.0, 1e-9);
}

TEST(DrawnCases, ServiceDropsAndGuys) {
    DrawnNetwork drawn(R"(
A---B---C---D
    |   |
    .   .
)");
    expect_drawn(drawn, "AB BC B. CD C.", "ETTE");
    drawn.spans[2].kind = SpanKind::service;
    drawn.spans[4].kind = SpanKind::guy;
    expect_drawn(drawn, "AB BC B. CD C.", "ETTE");
    // To a pole of its own: no junction, and no line there.
    drawn.add_pole('H', {40, -20});
    expect_drawn(drawn, "AB BC BH CD C.", "ETTEI");
    drawn.spans[2].kind = SpanKind::line;
    expect_drawn(drawn, "AB BC BH CD C.", "EJTEE");
}

TEST(DrawnCases, IdsThatContradictTheDrawing) {
    DrawnNetwork drawn(R"(
A---B---C
        D
)");
    drawn.spans[1].to = 'D';
    expect_drawn(drawn, "AB BD", "EAIE");  // the name wins
    EXPECT_EQ(count(drawn.solve(), "span_end_far"), 1);
    drawn.settings.id_distance_limit = Length::metres(9.0);
    expect_drawn(drawn, "AB BC", "ETEI");  // D is 10 m from the end drawn
    EXPECT_EQ(count(drawn.solve(), "span_end_far"), 1);
}

}  // namespace
}  // namespace linewood
