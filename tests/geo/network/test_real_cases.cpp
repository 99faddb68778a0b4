#include <array>
#include <cmath>
#include <numbers>

#include <geodesic.h>

#include <gtest/gtest.h>

#include "tests/support/drawn_network.hpp"

// Cases of real layers that the other tests do not draw, and azimuths against geodesics of their own.

namespace linewood {
namespace {

using testing::DrawnNetwork;

TEST(RealCases, ATapToALowerVoltageDoesNotTurnTheMainLine) {
    // The main line bends by 26.6 degrees at B; the tap goes straight on from A.
    DrawnNetwork drawn;
    drawn.add_pole('A', {-40, 0});
    drawn.add_pole('B', {0, 0});
    drawn.add_pole('C', {40, 20});
    drawn.add_pole('T', {40, 0});
    for (const char far : {'A', 'C', 'T'}) {
        drawn.add_span({drawn.pole('B'), drawn.pole(far)}).voltage_kv = far == 'T' ? 0.4F : 22.0F;
    }
    const LineDirection line = drawn.at('B');
    EXPECT_EQ(line.role, LineRole::junction);
    const double turn = std::atan2(20.0, 40.0) * 180.0 / std::numbers::pi;
    EXPECT_NEAR(line.deflection.value().degrees(), turn, 1e-9);
    EXPECT_NEAR(line.axis.value().degrees(), 90.0 - turn / 2.0, 1e-9);
}

TEST(RealCases, TwoCircuitsOnOnePoleLineShareItsAxis) {
    DrawnNetwork drawn(R"(
A---B---C
)");
    drawn.spans[0].circuit = drawn.spans[1].circuit = 1;
    for (const auto& [a, b] : {std::pair{'A', 'B'}, std::pair{'B', 'C'}}) {
        Point from = drawn.pole(a);
        Point to = drawn.pole(b);
        from.y = to.y = 1.0;  // drawn beside the first circuit, within the tolerance
        drawn.add_span({from, to}).circuit = 2;
    }
    const LineDirection line = drawn.at('B');
    EXPECT_EQ(line.role, LineRole::tangent);
    EXPECT_NEAR(line.axis.value().degrees(), 90.0, 1e-9);
    EXPECT_EQ(testing::count(drawn.solve(), "span_doubled"), 2);
}

TEST(RealCases, TwoDeadEndsThatMeetAtACornerAreAnAngle) {
    DrawnNetwork drawn(R"(
A---B
    |
    C
)");
    drawn.spans[0].circuit = 1;
    drawn.spans[1].circuit = 2;
    const LineDirection line = drawn.at('B');
    EXPECT_EQ(line.role, LineRole::angle);
    EXPECT_NEAR(line.deflection.value().degrees(), 90.0, 1e-9);
    EXPECT_NEAR(line.axis.value().degrees(), 135.0, 1e-9);
}

TEST(RealCases, APolePassedByASpanFurtherThanHalfAMetreIsNotOnIt) {
    DrawnNetwork drawn;
    drawn.add_pole('A', {0, 0});
    drawn.add_pole('P', {100, 0.6});
    drawn.add_pole('Q', {150, 0.4});
    drawn.add_pole('B', {200, 0});
    drawn.add_span({{0, 0}, {200, 0}});
    const Network network = drawn.solve();
    EXPECT_EQ(network.direction(drawn.index('P')).role, LineRole::isolated);
    EXPECT_EQ(network.direction(drawn.index('Q')).role, LineRole::tangent);
    EXPECT_EQ(network.spans().size(), 2U);
}

/// Azimuths at both ends by PROJ's C routines, called here directly.
TEST(RealCases, AzimuthsAreThoseOfGeodesicsFarNorthAndAcrossThe180thMeridian) {
    geod_geodesic wgs84;
    geod_init(&wgs84, 6378137.0, 1.0 / 298.257223563);
    constexpr std::array<std::array<double, 4>, 7> kSpans{{{25.0, 70.0, 25.001, 70.0003},
                                                           {25.0, 70.0, 24.9987, 70.0},
                                                           {179.9996, 70.0, -179.9995, 70.0002},
                                                           {-179.9999, -16.5, 179.9994, -16.5004},
                                                           {179.9999, 0.0, -179.9999, 0.0},
                                                           {-123.0, 45.0, -123.0, 45.0005},
                                                           {15.0, 89.9, 15.2, 89.9}}};
    for (const auto& [x1, y1, x2, y2] : kSpans) {
        double length = 0.0;
        double out = 0.0;
        double on = 0.0;
        geod_inverse(&wgs84, y1, x1, y2, x2, &length, &out, &on);
        DrawnNetwork drawn;
        drawn.ground = Ground::geodesic(6378137.0, 1.0 / 298.257223563);
        drawn.add_pole('A', {x1, y1});
        drawn.add_pole('B', {x2, y2});
        drawn.add_span({{x1, y1}, {x2, y2}});
        const Network network = drawn.solve();
        ASSERT_EQ(network.spans().size(), 1U);
        const double azimuth = network.spans()[0].azimuth.value().degrees();
        EXPECT_NEAR(std::remainder(azimuth - out, 360.0), 0.0, 1e-7);
        EXPECT_NEAR(
            std::remainder(network.direction(1).axis.value().degrees() - on, 180.0), 0.0, 1e-7);
        EXPECT_NEAR(network.spans()[0].length_m, length, 1e-6);
    }
}

}  // namespace
}  // namespace linewood
