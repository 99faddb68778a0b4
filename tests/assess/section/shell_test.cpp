#include <gtest/gtest.h>

#include "assess/section/remaining_section.hpp"
#include "tests/support/section_builder.hpp"

namespace linewood::test {
namespace {

double shell(const SectionShape& shape, double degrees) {
    const std::optional<Length> t = shell_at(shape, Bearing::degrees(degrees));
    return t ? t->metres() : -1.0;
}

TEST(shell, nothing_without_readings) {
    EXPECT_FALSE(shell_at(section_of({{0.0, 0.2, 0.2}}), Bearing::degrees(10.0)).has_value());
}

TEST(shell, one_reading_holds_all_round) {
    const SectionShape shape = section_of({}, {{123.0, 0.4}});
    for (const double a : {0.0, 122.9, 123.0, 303.0}) {
        EXPECT_EQ(shell(shape, a), 0.4) << a;
    }
}

TEST(shell, linear_between_readings_and_round_through_north) {
    const SectionShape shape = section_of({}, {{300.0, 0.2}, {60.0, 0.8}, {180.0, 0.5}});
    EXPECT_NEAR(shell(shape, 300.0), 0.2, 1e-15);
    EXPECT_NEAR(shell(shape, 330.0), 0.35, 1e-15);
    EXPECT_NEAR(shell(shape, 0.0), 0.5, 1e-15);
    EXPECT_NEAR(shell(shape, 30.0), 0.65, 1e-15);
    EXPECT_NEAR(shell(shape, 60.0), 0.8, 1e-15);
    EXPECT_NEAR(shell(shape, 100.0), 0.7, 1e-15);
    EXPECT_NEAR(shell(shape, 240.0), 0.35, 1e-15);
}

TEST(shell, thicker_than_the_radius_is_the_radius) {
    EXPECT_EQ(shell(section_of({}, {{10.0, 1.5}}), 200.0), 1.0);
}

TEST(shell, readings_at_one_azimuth_are_one_the_least) {
    const SectionShape shape = section_of({}, {{0.0, 0.6}, {360.0 - 1e-9, 0.3}, {90.0, 0.5}});
    EXPECT_NEAR(shell(shape, 0.0), 0.3, 1e-9);
    EXPECT_NEAR(shell(shape, 45.0), 0.4, 1e-9);
}

}  // namespace
}  // namespace linewood::test
