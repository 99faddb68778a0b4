#include "assess/units/angle.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(AngleTest, DegreesAndRadians) {
    EXPECT_DOUBLE_EQ(Angle::degrees(180).radians(), std::numbers::pi);
    EXPECT_DOUBLE_EQ(Angle::radians(std::numbers::pi / 6).degrees(), 30.0);
    EXPECT_DOUBLE_EQ(Bearing::degrees(90).radians(), std::numbers::pi / 2);
}

TEST(BearingTest, AlwaysInOneTurn) {
    const double cases[][2] = {{0, 0},
                               {359.5, 359.5},
                               {360, 0},
                               {-1, 359},
                               {720, 0},
                               {-360, 0},
                               {-725, 355},
                               {1e6, 280},
                               {-1e-20, 0}};
    for (const auto& [in, out] : cases) {
        const double got = Bearing::degrees(in).degrees();
        EXPECT_NEAR(got, out, 1e-9) << in;
        EXPECT_GE(got, 0.0);
        EXPECT_LT(got, 360.0);
    }
}

TEST(AxisTest, AlwaysInHalfATurn) {
    const double cases[][2] = {{0, 0}, {180, 0}, {-1, 179}, {270, 90}, {359, 179}, {-1e-20, 0}};
    for (const auto& [in, out] : cases) {
        const double got = Axis::degrees(in).degrees();
        EXPECT_NEAR(got, out, 1e-9) << in;
        EXPECT_GE(got, 0.0);
        EXPECT_LT(got, 180.0);
    }
}

TEST(AxisTest, BothWaysAlongTheLineAreTheSameAxis) {
    EXPECT_EQ(Axis::along(Bearing::degrees(37)), Axis::along(Bearing::degrees(217)));
}

TEST(AxisTest, PerpendicularTwiceIsTheAxisItself) {
    for (const double d : {0.0, 45.0, 89.5, 90.0, 179.5}) {
        const Axis axis = Axis::degrees(d);
        EXPECT_DOUBLE_EQ(axis.perpendicular().perpendicular().degrees(), axis.degrees());
    }
    EXPECT_DOUBLE_EQ(Axis::degrees(120).perpendicular().degrees(), 30.0);
}

TEST(AngleBetweenTest, IsTheLeastTurn) {
    const double cases[][3] = {{0, 0, 0},
                               {10, 350, 20},
                               {350, 10, 20},
                               {0, 180, 180},
                               {90, 270, 180},
                               {0, 181, 179},
                               {359, 1, 2}};
    for (const auto& [a, b, turn] : cases) {
        EXPECT_DOUBLE_EQ(angle_between(Bearing::degrees(a), Bearing::degrees(b)).degrees(), turn);
    }
}

TEST(AngleOffTest, IsTheLeastTurnToEitherEnd) {
    const double cases[][3] = {{0, 0, 0},
                               {180, 0, 0},
                               {90, 0, 90},
                               {270, 0, 90},
                               {30, 0, 30},
                               {150, 0, 30},
                               {210, 0, 30},
                               {330, 0, 30},
                               {5, 175, 10},
                               {355, 5, 10}};
    for (const auto& [bearing, axis, off] : cases) {
        EXPECT_DOUBLE_EQ(angle_off(Bearing::degrees(bearing), Axis::degrees(axis)).degrees(), off)
            << bearing << " off " << axis;
    }
}

}  // namespace
}  // namespace linewood
