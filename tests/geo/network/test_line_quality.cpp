#include <cmath>
#include <set>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "geo/network/line_quality.hpp"
#include "tests/support/drawn_network.hpp"

namespace linewood {
namespace {

using testing::DrawnNetwork;
using Q = LineQuality;
using R = QualityReason;

LineTrust trust(const DrawnNetwork& drawn, char pole) {
    return drawn.solve().trust(drawn.index(pole));
}

constexpr PlacingLimits kUsual{Length::metres(2.0), Length{}};

EndEvidence off(double metres, bool named = false) {
    EndEvidence end;
    end.off_m = metres;
    end.named = named;
    return end;
}

TEST(SpanDoubt, IsTheAngleUnderWhichTheMetresAreSeen) {
    EXPECT_DOUBLE_EQ(span_doubt(off(0), off(0), 40, kUsual).degrees(), 0.0);
    // atan(1 / 40) = 1.4321 degrees, computed by hand.
    EXPECT_NEAR(span_doubt(off(0.4), off(0.6), 40, kUsual).degrees(), 1.43, 0.005);
    EXPECT_DOUBLE_EQ(span_doubt(off(1), off(1), 0, kUsual).degrees(), 90.0);
    EXPECT_DOUBLE_EQ(span_doubt(off(1e9), off(0), 1e-9, kUsual).degrees(), 90.0);
}

TEST(SpanDoubt, NamesTheCauseThatWeighsMost) {
    EXPECT_EQ(span_doubt(off(0.1), off(0.1), 40, kUsual).reason, R::snapped_near);
    EXPECT_EQ(span_doubt(off(0.1, true), off(0.1), 40, kUsual).reason, R::snapped_near);
    EXPECT_EQ(span_doubt(off(0.1, true), off(0.1, true), 40, kUsual).reason, R::names_agree);
    EXPECT_EQ(span_doubt(off(1.9), off(0), 40, kUsual).reason, R::snapped_far);
    EXPECT_EQ(span_doubt(off(0.4), off(0.4), 10, kUsual).reason, R::short_span);
    EXPECT_EQ(span_doubt(off(7, true), off(0, true), 40, kUsual).reason,
              R::end_far_from_named_pole);
    EndEvidence rival = off(0.5);
    rival.rival_m = 1.8;
    EXPECT_EQ(span_doubt(rival, off(0), 40, kUsual).reason, R::ambiguous_snap);
    EndEvidence nowhere = off(0, true);
    nowhere.placed = false;
    EXPECT_EQ(span_doubt(nowhere, off(0, true), 40, kUsual).reason, R::pole_without_place);
    EXPECT_EQ(span_doubt(off(0), off(0), 40, {Length::metres(2), Length::metres(10)}).reason,
              R::coordinates_coarse);
}

TEST(AxisTrust, HasItsLimitsAtTwoAndTenDegrees) {
    const auto of = [](std::uint16_t hundredths) {
        return axis_trust(SpanDoubt{hundredths, R::snapped_far}).quality;
    };
    EXPECT_EQ(of(200), Q::sure);
    EXPECT_EQ(of(201), Q::fair);
    EXPECT_EQ(of(1000), Q::fair);
    EXPECT_EQ(of(1001), Q::weak);
    // A pair: the mean.
    EXPECT_EQ(axis_trust(SpanDoubt{0}, SpanDoubt{400, R::snapped_far}),
              (LineTrust{Q::sure, R::snapped_near}));
    EXPECT_EQ(axis_trust(SpanDoubt{0}, SpanDoubt{402, R::snapped_far}),
              (LineTrust{Q::fair, R::snapped_far}));
    EXPECT_EQ(axis_trust(SpanDoubt{0, R::names_agree}, SpanDoubt{0, R::names_agree}),
              (LineTrust{Q::sure, R::names_agree}));
}

TEST(AxisTrust, OnlyEverGetsWorse) {
    const LineTrust weak{Q::weak, R::snapped_far};
    EXPECT_EQ(worsened(weak, 5, R::equal_pairs), weak);
    EXPECT_EQ(worsened({Q::sure, R::names_agree}, 2, R::equal_pairs),
              (LineTrust{Q::sure, R::names_agree}));
    EXPECT_EQ(worsened({Q::sure, R::names_agree}, 90, R::equal_pairs),
              (LineTrust{Q::weak, R::equal_pairs}));
    EXPECT_EQ(worsened({Q::none, R::no_spans}, 90, R::equal_pairs),
              (LineTrust{Q::none, R::no_spans}));
}

TEST(LineQuality, ACleanLineIsSure) {
    DrawnNetwork drawn(R"(
A---B---C   X
)");
    for (const char pole : {'A', 'B', 'C'}) {
        EXPECT_EQ(trust(drawn, pole), (LineTrust{Q::sure, R::snapped_near})) << pole;
    }
    EXPECT_EQ(trust(drawn, 'X'), (LineTrust{Q::none, R::no_spans}));
    drawn.span('A', 'B').from = 'A';
    drawn.span('A', 'B').to = 'B';
    drawn.span('B', 'C').from = 'B';
    drawn.span('B', 'C').to = 'C';
    EXPECT_EQ(trust(drawn, 'B'), (LineTrust{Q::sure, R::names_agree}));
}

TEST(LineQuality, APoleBesideItsDrawnEndIsFairOrWeakByTheSpansLength) {
    DrawnNetwork drawn(R"(
A---B
)");
    drawn.pole('A').y += 1.9;  // atan(1.9 / 40) = 2.7 degrees
    EXPECT_EQ(trust(drawn, 'B'), (LineTrust{Q::fair, R::snapped_far}));
    DrawnNetwork brief(R"(
A-B
)");
    brief.pole('A').y += 1.9;
    brief.pole('B').y -= 1.9;  // atan(3.8 / 20.3) = 10.6
    EXPECT_EQ(trust(brief, 'B'), (LineTrust{Q::weak, R::snapped_far}));
}

TEST(LineQuality, ACrossOfEqualLinesIsWeakUntilCircuitsTellThemApart) {
    DrawnNetwork drawn(R"(
    D
    |
A---B---C
    |
    E
)");
    EXPECT_EQ(trust(drawn, 'B'), (LineTrust{Q::weak, R::equal_pairs}));
    drawn.span('A', 'B').voltage_kv = drawn.span('B', 'C').voltage_kv = 22.0F;
    drawn.span('D', 'B').voltage_kv = drawn.span('B', 'E').voltage_kv = 0.4F;
    EXPECT_EQ(trust(drawn, 'B'), (LineTrust{Q::sure, R::snapped_near}));
    EXPECT_NEAR(drawn.at('B').axis.value().degrees(), 90.0, 1e-9);
}

TEST(LineQuality, AJunctionWithoutAStraightPairHasNone) {
    DrawnNetwork drawn;
    drawn.add_pole('O', {0, 0});
    drawn.add_pole('A', {0, 40});
    drawn.add_pole('B', {35, -20});
    drawn.add_pole('C', {-35, -20});
    for (const char far : {'A', 'B', 'C'}) {
        drawn.add_span({drawn.pole('O'), drawn.pole(far)});
    }
    EXPECT_EQ(trust(drawn, 'O'), (LineTrust{Q::none, R::no_straight_pair}));
}

TEST(LineQuality, ALooseEndMakesADeadEndDoubtful) {
    DrawnNetwork beside(R"(
A---B
)");
    // Ends 3 m past B: not snapped, but it may well be B's.
    beside.add_span({{43, 0}, {80, 30}});
    EXPECT_EQ(trust(beside, 'B'), (LineTrust{Q::weak, R::line_unsnapped_nearby}));
    EXPECT_EQ(trust(beside, 'A'), (LineTrust{Q::sure, R::snapped_near}));
    DrawnNetwork onward(R"(
A---B---.
)");
    EXPECT_EQ(trust(onward, 'B'), (LineTrust{Q::weak, R::line_unsnapped_nearby}));
    DrawnNetwork house(R"(
A---B---.
)");
    house.spans.back().kind = SpanKind::service;
    EXPECT_EQ(trust(house, 'B'), (LineTrust{Q::sure, R::snapped_near}));
}

TEST(LineQuality, FromANearestLineItIsNeverBetterThanFair) {
    DrawnNetwork drawn;
    drawn.settings.nearest_line = Length::metres(10);
    drawn.add_pole('M', {20, 5});
    drawn.add_pole('N', {40, -5});
    drawn.add_span({{0, 0}, {40, 0}, {40, 40}});
    EXPECT_EQ(trust(drawn, 'M'), (LineTrust{Q::fair, R::nearest_line}));
    // Beside a right-angled bend: 45 degrees either way.
    EXPECT_EQ(trust(drawn, 'N'), (LineTrust{Q::weak, R::nearest_line}));
}

TEST(LineQuality, AllWordsAreDifferent) {
    std::set<std::string_view> words;
    for (std::size_t i = 0; i < kQualityReasonCount; ++i) {
        words.insert(name_of(static_cast<QualityReason>(i)));
    }
    EXPECT_EQ(words.size(), kQualityReasonCount);
    EXPECT_EQ(name_of(Q::weak), "weak");
    EXPECT_EQ(name_of(Q::none), "");
}

TEST(SnapTally, CountsEndsByDistanceAlsoThoseLeftOver) {
    DrawnNetwork drawn(R"(
A---B---C
)");
    drawn.span('A', 'B').from = 'A';
    drawn.span('A', 'B').parts[0].front().y += 7;
    drawn.span('B', 'C').parts[0].back().y += 1.5;
    drawn.add_span({{80, 4}, {80, 44}});  // 4 m from C, far from any
    drawn.add_span({{40, 0}, {40, 30}}).kind = SpanKind::service;
    const Network network = drawn.solve();
    const SnapTally& t = network.tally();
    const auto counts = [](const SnapTally::Classes& c) {
        return std::vector<std::int64_t>(c.count.begin(), c.count.end());
    };
    EXPECT_EQ(counts(t.by_name), (std::vector<std::int64_t>{0, 0, 0, 0, 1}));
    EXPECT_EQ(counts(t.by_place), (std::vector<std::int64_t>{3, 0, 1, 0, 0}));
    EXPECT_EQ(counts(t.left_over), (std::vector<std::int64_t>{0, 0, 0, 1, 1}));
    EXPECT_EQ(counts(t.free_by_kind), (std::vector<std::int64_t>{0, 0, 0, 0, 1}));
}

TEST(LongSpans, OverFiveTimesWhatMostDoNotPass) {
    DrawnNetwork drawn;
    for (int i = 0; i < 40; ++i) {
        drawn.add_pole(static_cast<char>('!' + i), {i * 10.0, 0});
    }
    drawn.add_pole('~', {390 + 51.0, 0});
    for (std::size_t i = 0; i + 1 < drawn.poles.size(); ++i) {
        drawn.add_span({drawn.poles[i], drawn.poles[i + 1]});
    }
    EXPECT_EQ(testing::count(drawn.solve(), "span_long"), 1);
    const LengthQuantiles q = drawn.solve().lengths();
    EXPECT_EQ(q.spans, 40);
    EXPECT_DOUBLE_EQ(q.p95(), 10.0);
    EXPECT_DOUBLE_EQ(q.longest(), 51.0);
    drawn.poles.back().x -= 1.0;
    drawn.spans.back().parts[0].back().x -= 1.0;
    EXPECT_EQ(testing::count(drawn.solve(), "span_long"), 0);
}

}  // namespace
}  // namespace linewood
