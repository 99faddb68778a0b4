#include "geo/corridor/corridor_condition.hpp"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "geo/stats/rate_interval.hpp"
#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

PoleCondition pole(Verdict verdict, double strength, Urgency urgency = Urgency::soon) {
    return {"", verdict, urgency, true, strength};
}

constexpr double kNoFigure = std::numeric_limits<double>::quiet_NaN();

TEST(CorridorCondition, CountsWhatStandsInIt) {
    const std::vector<PoleCondition> poles{
        pole(Verdict::replace, 40.0),
        pole(Verdict::serviceable, 95.0),
        pole(Verdict::serviceable, 90.0),
        pole(Verdict::stub, 55.0),
        pole(Verdict::unassessed, kNoFigure),
        {},  // never inspected
        pole(Verdict::replace, 50.0),
    };
    const std::vector<std::uint32_t> of{0, 0, 0, 0, 0, 0, kNone};
    const std::vector<double> km{1.2};
    const CorridorCondition c = corridor_conditions(of, poles, km).front();
    EXPECT_EQ(c.poles, 6);
    EXPECT_EQ(c.inspected, 5);
    EXPECT_EQ(c.assessed(), 4);
    EXPECT_EQ(c.rejects(), 2);
    EXPECT_EQ(c.count(Verdict::serviceable), 2);
    EXPECT_EQ(c.worst_pole, 0U);
    ASSERT_TRUE(c.strength_pct);
    EXPECT_EQ((*c.strength_pct)[0], 40.0);
    EXPECT_EQ((*c.strength_pct)[2], 40.0);  // a quarter of four
    EXPECT_EQ((*c.strength_pct)[3], 55.0);
    EXPECT_DOUBLE_EQ(*c.reject_share, 0.5);
    EXPECT_DOUBLE_EQ(c.reject_share_limits.low, wilson_interval(2, 4)->low);
    // 4 of 6 poles were assessed: 0.8 km.
    EXPECT_DOUBLE_EQ(c.km_assessed, 0.8);
    EXPECT_DOUBLE_EQ(*c.rejects_per_km, 2.5);
    EXPECT_NEAR(c.rejects_per_km_limits.high, 7.224687667723961 / 0.8, 1e-8);
}

TEST(CorridorCondition, TakesStrengthsOfAssessedPolesOnlyInFull) {
    const std::vector<PoleCondition> poles{
        pole(Verdict::unassessed, 12.0),  // of a geometry that cannot be
        pole(Verdict::serviceable, 91.23456789012345),
        pole(Verdict::treat, 80.12345678901234),
    };
    const CorridorCondition c =
        corridor_conditions(std::vector<std::uint32_t>{0, 0, 0}, poles, std::vector<double>{1.0})
            .front();
    ASSERT_TRUE(c.strength_pct);
    EXPECT_EQ((*c.strength_pct)[0], 80.12345678901234);
    EXPECT_EQ((*c.strength_pct)[3], 80.12345678901234);
    EXPECT_EQ(c.worst_pole, 0U);  // before one to be treated: nobody knows
}

TEST(CorridorCondition, HasNoRatesWhereNothingIsAssessed) {
    const std::vector<PoleCondition> poles{{}};
    const CorridorCondition c =
        corridor_conditions(std::vector<std::uint32_t>{0}, poles, std::vector<double>{1.0}).front();
    EXPECT_FALSE(c.reject_share);
    EXPECT_FALSE(c.rejects_per_km);
    EXPECT_FALSE(c.strength_pct);
    EXPECT_EQ(c.worst_pole, 0U);
}

TEST(CorridorCondition, PutsWhatCannotWaitBeforeAWorseVerdict) {
    const std::vector<PoleCondition> poles{
        pole(Verdict::replace, 10.0),
        pole(Verdict::stub, kNoFigure, Urgency::now),
        pole(Verdict::stub, 30.0, Urgency::now),
    };
    const std::vector<std::uint32_t> of{0, 0, 0};
    EXPECT_EQ(corridor_conditions(of, poles, std::vector<double>{1.0}).front().worst_pole, 2U);
}

TEST(CorridorCondition, OfEquallyBadPolesNamesTheOneOfLeastId) {
    PoleCondition b = pole(Verdict::replace, 40.0);
    b.id = "B";
    PoleCondition a = b;
    a.id = "A";
    for (const auto& poles : {std::vector{a, b}, std::vector{b, a}}) {
        const std::vector<std::uint32_t> of{0, 0};
        const auto worst =
            corridor_conditions(of, poles, std::vector<double>{1.0}).front().worst_pole;
        ASSERT_TRUE(worst);
        EXPECT_EQ(poles[*worst].id, "A");
    }
}

TEST(CorridorCondition, RanksAPoleOnNoLineAsOneOfAnAverageStretch) {
    // 1 km and 10 poles on the line: a pole that stands alone counts as one on 0.1 km.
    std::vector<PoleCondition> poles;
    std::vector<std::uint32_t> of;
    const auto add = [&](std::uint32_t corridor, int count, Verdict verdict) {
        for (int i = 0; i < count; ++i) {
            poles.push_back(pole(verdict, 70.0));
            of.push_back(corridor);
        }
    };
    add(0, 2, Verdict::serviceable);
    add(1, 1, Verdict::replace);  // 1 reject on 0.05 km: lower limit 0.506
    add(2, 6, Verdict::serviceable);
    add(2, 1, Verdict::replace);     // 1 on 0.75 km: 0.034
    add(3, 1, Verdict::replace);     // alone: as on 0.1 km, 0.253
    add(4, 1, Verdict::unassessed);  // alone, nobody knows
    const auto corridors =
        corridor_conditions(of, poles, std::vector<double>{0.2, 0.05, 0.75, 0.0, 0.0});
    EXPECT_EQ(corridors[1].rank, 1U);
    EXPECT_EQ(corridors[3].rank, 2U);
    EXPECT_EQ(corridors[2].rank, 3U);
    EXPECT_EQ(corridors[0].rank, 4U);
    EXPECT_EQ(corridors[4].rank, 5U);
    EXPECT_FALSE(corridors[3].rejects_per_km);
}

TEST(CorridorCondition, DoesNotRankAShortTapBeforeABadFeeder) {
    std::vector<PoleCondition> poles;
    std::vector<std::uint32_t> of;
    const auto add = [&](std::uint32_t corridor, int count, Verdict verdict) {
        for (int i = 0; i < count; ++i) {
            poles.push_back(pole(verdict, 70.0));
            of.push_back(corridor);
        }
    };
    add(0, 100, Verdict::serviceable);
    add(1, 1, Verdict::replace);  // 1 reject on 40 m
    add(1, 1, Verdict::serviceable);
    add(2, 30, Verdict::replace);  // 30 rejects on 4 km
    add(2, 70, Verdict::serviceable);
    const std::vector<double> km{4.0, 0.04, 4.0};
    const auto corridors = corridor_conditions(of, poles, km);
    EXPECT_GT(*corridors[1].rejects_per_km, *corridors[2].rejects_per_km);
    EXPECT_EQ(corridors[2].rank, 1U);
    EXPECT_EQ(corridors[1].rank, 2U);
    EXPECT_EQ(corridors[0].rank, 3U);
}

TEST(CorridorCondition, AddsUpToTheWhole) {
    std::mt19937 random{7};
    std::vector<PoleCondition> poles;
    std::vector<std::uint32_t> of;
    for (int i = 0; i < 5000; ++i) {
        poles.push_back(pole(static_cast<Verdict>(random() % kVerdictCount),
                             static_cast<double>(random() % 100U),
                             static_cast<Urgency>(random() % 4U)));
        poles.back().inspected = random() % 3U != 0;
        of.push_back(static_cast<std::uint32_t>(random() % 40U));
    }
    const std::vector<double> km(40, 2.0);
    const auto parts = corridor_conditions(of, poles, km);
    const std::vector<std::uint32_t> one(poles.size(), 0);
    const auto whole = corridor_conditions(one, poles, std::vector<double>{80.0}).front();
    CorridorCondition sum;
    for (const CorridorCondition& part : parts) {
        sum.poles += part.poles;
        sum.inspected += part.inspected;
        sum.now += part.now;
        sum.km += part.km;
        for (std::size_t v = 0; v < sum.verdicts.size(); ++v) {
            sum.verdicts[v] += part.verdicts[v];
        }
    }
    EXPECT_EQ(sum.poles, whole.poles);
    EXPECT_EQ(sum.inspected, whole.inspected);
    EXPECT_EQ(sum.now, whole.now);
    EXPECT_EQ(sum.km, whole.km);
    EXPECT_EQ(sum.verdicts, whole.verdicts);
}

}  // namespace
}  // namespace linewood
