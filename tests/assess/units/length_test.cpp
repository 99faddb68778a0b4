#include "assess/units/length.hpp"

#include <gtest/gtest.h>

#include "assess/units/maybe.hpp"

namespace linewood {
namespace {

TEST(LengthTest, ExactFactors) {
    EXPECT_DOUBLE_EQ(Length::inches(1).millimetres(), 25.4);
    EXPECT_DOUBLE_EQ(Length::feet(1).metres(), 0.3048);
    EXPECT_DOUBLE_EQ(Length::feet(1).inches(), 12.0);
    EXPECT_DOUBLE_EQ(Length::metres(12.2).feet(), 12.2 / 0.3048);
    EXPECT_DOUBLE_EQ(Length::millimetres(254).inches(), 10.0);
}

TEST(LengthTest, RoundFiguresOfFormsComeBack) {
    for (int sixteenths = 0; sixteenths <= 16 * 120; ++sixteenths) {
        const double inches = sixteenths / 16.0;
        EXPECT_DOUBLE_EQ(Length::inches(inches).inches(), inches);
    }
}

TEST(LengthTest, ComputesAndCompares) {
    const Length a = Length::feet(3);
    const Length b = Length::feet(2);
    EXPECT_DOUBLE_EQ((a + b).feet(), 5.0);
    EXPECT_DOUBLE_EQ((a - b).feet(), 1.0);
    EXPECT_DOUBLE_EQ((-a).feet(), -3.0);
    EXPECT_DOUBLE_EQ((a * 2.0).feet(), 6.0);
    EXPECT_DOUBLE_EQ((2.0 * a).feet(), 6.0);
    EXPECT_DOUBLE_EQ((a / 2.0).feet(), 1.5);
    EXPECT_DOUBLE_EQ(a / b, 1.5);
    EXPECT_LT(b, a);
    EXPECT_EQ(Length{}, Length::metres(0.0));
}

TEST(MaybeTest, HoldsAValueOrNothing) {
    Maybe<Length> m;
    EXPECT_FALSE(m.has_value());
    EXPECT_FALSE(m);
    EXPECT_EQ(m.value_or(Length::feet(1)), Length::feet(1));
    m = Length::feet(2);
    EXPECT_TRUE(m);
    EXPECT_EQ(*m, Length::feet(2));
    EXPECT_EQ(m.value_or(Length::feet(1)), Length::feet(2));
}

TEST(MaybeTest, ZeroIsAValue) {
    EXPECT_TRUE(Maybe<Length>{Length{}}.has_value());
    EXPECT_NE(Maybe<Length>{Length{}}, Maybe<Length>{});
}

TEST(MaybeTest, EqualWhenBothAbsentOrSame) {
    EXPECT_EQ(Maybe<Length>{}, Maybe<Length>{});
    EXPECT_EQ(Maybe<Length>{Length::feet(1)}, Maybe<Length>{Length::feet(1)});
    EXPECT_NE(Maybe<Length>{Length::feet(1)}, Maybe<Length>{Length::feet(2)});
}

TEST(MaybeTest, IsAsSmallAsItsNumber) { EXPECT_EQ(sizeof(Maybe<Length>), sizeof(double)); }

}  // namespace
}  // namespace linewood
