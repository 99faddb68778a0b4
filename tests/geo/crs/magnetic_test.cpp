#include "geo/crs/magnetic.hpp"

#include <cmath>
#include <fstream>
#include <limits>
#include <sstream>
#include <string>

#include <gtest/gtest.h>

#include "tests/places/places.hpp"

namespace linewood {
namespace {

TEST(Magnetic, all_published_test_values_to_their_printed_digits) {
    std::ifstream file(testing::test_file("published/wmm2025_test_values.txt"));
    std::string line;
    int rows = 0;
    while (std::getline(file, line)) {
        if (line.empty() || line.front() == '#') {
            continue;
        }
        std::istringstream row(line);
        double year = 0.0;
        double height_km = 0.0;
        Point at;
        double expected = 0.0;
        ASSERT_TRUE(row >> year >> height_km >> at.y >> at.x >> expected) << line;
        const auto angle = declination(at, height_km * 1000.0, year);
        ASSERT_TRUE(angle.has_value()) << line;
        EXPECT_NEAR(angle->degrees(), expected, 0.01) << line;
        ++rows;
    }
    EXPECT_EQ(rows, 100);
}

TEST(Magnetic, a_date_is_its_share_of_the_year) {
    const Point at{-94.0, 41.5};
    const auto day = Date::from_ymd(2026, 7, 2);   // 182 of 365 days gone
    const auto leap = Date::from_ymd(2028, 7, 2);  // 183 of 366
    ASSERT_TRUE(day && leap);
    EXPECT_NEAR(declination(at, 300.0, *day)->degrees(),
                declination(at, 300.0, 2026.0 + 182.0 / 365.0)->degrees(),
                1e-12);
    EXPECT_NEAR(
        declination(at, 300.0, *leap)->degrees(), declination(at, 300.0, 2028.5)->degrees(), 1e-12);
}

TEST(Magnetic, nothing_outside_the_years_of_the_model) {
    const Point at{10.0, 60.0};
    EXPECT_FALSE(declination(at, 0.0, *Date::from_ymd(2024, 12, 31)).has_value());
    EXPECT_TRUE(declination(at, 0.0, *Date::from_ymd(2025, 1, 1)).has_value());
    EXPECT_TRUE(declination(at, 0.0, *Date::from_ymd(2030, 1, 1)).has_value());
    EXPECT_FALSE(declination(at, 0.0, *Date::from_ymd(2030, 1, 2)).has_value());
    EXPECT_FALSE(declination(at, 0.0, std::nan("")).has_value());
}

TEST(Magnetic, nothing_for_a_place_that_is_none) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_FALSE(declination({10.0, 90.5}, 0.0, 2026.0).has_value());
    EXPECT_FALSE(declination({nan, 60.0}, 0.0, 2026.0).has_value());
    EXPECT_FALSE(declination({10.0, nan}, 0.0, 2026.0).has_value());
    EXPECT_FALSE(declination({10.0, 60.0}, nan, 2026.0).has_value());
}

TEST(Magnetic, goes_smoothly_over_the_180th_meridian_and_stays_finite_at_the_pole) {
    EXPECT_NEAR(declination({180.0, 65.0}, 0.0, 2026.0)->degrees(),
                declination({-180.0, 65.0}, 0.0, 2026.0)->degrees(),
                1e-9);
    // Along a meridian the declination at the pole is the limit of those before it.
    EXPECT_NEAR(declination({20.0, 90.0}, 0.0, 2026.0)->degrees(),
                declination({20.0, 89.99999}, 0.0, 2026.0)->degrees(),
                1e-3);
}

}  // namespace
}  // namespace linewood
