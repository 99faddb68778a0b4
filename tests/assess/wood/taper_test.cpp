#include "assess/wood/taper.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

// 40 ft, 6.5 ft in the ground, 36 in 6 ft from the butt, 23 in at the tip: 13 in over 34 ft.
Taper example() {
    return Taper::from_table(
        Length::feet(40), Length::feet(6.5), Length::inches(36), Length::inches(23));
}

TEST(TaperTest, RunsStraightFromTipToButt) {
    const Taper t = example();
    const double slope = 13.0 / 34.0;
    EXPECT_NEAR(t.girth_at(Length::feet(33.5)).value().inches(), 23.0, 1e-12);
    EXPECT_NEAR(t.girth_at(Length::feet(-0.5)).value().inches(), 36.0, 1e-12);
    EXPECT_NEAR(t.girth_at(Length{}).value().inches(), 36.0 - 0.5 * slope, 1e-12);
    EXPECT_NEAR(t.girth_at(Length::feet(10)).value().inches(), 36.0 - 10.5 * slope, 1e-12);
    EXPECT_NEAR(t.girth_at(Length::feet(-6.5)).value().inches(), 36.0 + 6.0 * slope, 1e-12);
    EXPECT_EQ(t.groundline_girth(), t.girth_at(Length{}));
    EXPECT_TRUE(t.has_girth());
}

TEST(TaperTest, StaysAtTheTipsGirthAboveTheTip) {
    EXPECT_NEAR(example().girth_at(Length::feet(200)).value().inches(), 23.0, 1e-12);
}

TEST(TaperTest, TableTaperCarriesInProportion) {
    const Taper t = example();
    const Length measured = Length::inches(38);
    const Length from = Length::feet(4);
    const Length to = Length::feet(-1);
    EXPECT_NEAR(
        *t.carry(measured, from, to) / measured, *t.girth_at(to) / *t.girth_at(from), 1e-14);
    EXPECT_EQ(t.carry(measured, from, from), Maybe<Length>{measured});
    const Length there_and_back = *t.carry(*t.carry(measured, from, to), to, from);
    EXPECT_NEAR(there_and_back.inches(), 38.0, 1e-12);
}

TEST(TaperTest, AverageTaperTakesOffItsSlope) {
    const Taper t = Taper::average(0.25 / 12.0);
    EXPECT_FALSE(t.has_girth());
    EXPECT_FALSE(t.girth_at(Length{}));
    EXPECT_FALSE(t.groundline_girth());
    EXPECT_NEAR(
        t.carry(Length::inches(36), Length::feet(4), Length{}).value().inches(), 37.0, 1e-12);
    EXPECT_NEAR(
        t.carry(Length::inches(36), Length{}, Length::feet(20)).value().inches(), 31.0, 1e-12);
    EXPECT_EQ(t.carry(Length::inches(36), Length::feet(3), Length::feet(3)),
              Maybe<Length>{Length::inches(36)});
}

TEST(TaperTest, AverageTaperGivesNothingWhereNoGirthIsLeft) {
    const Taper t = Taper::average(0.25 / 12.0);
    EXPECT_FALSE(t.carry(Length::inches(36), Length{}, Length::feet(144)));
    EXPECT_TRUE(t.carry(Length::inches(36), Length{}, Length::feet(143)));
}

TEST(TaperTest, APoleWithoutTaperKeepsItsGirth) {
    const Taper t = Taper::from_table(
        Length::feet(40), Length::feet(6), Length::inches(30), Length::inches(30));
    EXPECT_EQ(t.girth_at(Length::feet(20)), Maybe<Length>{Length::inches(30)});
    EXPECT_NEAR(
        t.carry(Length::inches(33), Length{}, Length::feet(20)).value().inches(), 33.0, 1e-12);
}

}  // namespace
}  // namespace linewood
