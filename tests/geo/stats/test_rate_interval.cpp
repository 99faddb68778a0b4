#include <cmath>
#include <fstream>
#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "geo/stats/rate_interval.hpp"
#include "tests/places/places.hpp"

namespace linewood {
namespace {

nlohmann::json published(const std::string& file) {
    return nlohmann::json::parse(std::ifstream{testing::test_file("published/stats/" + file)});
}

TEST(wilson_interval, published) {
    const auto table = published("wilson.json");
    for (const auto& row : table["newcombe"]) {
        const auto interval =
            wilson_interval(row["x"].get<std::int64_t>(), row["n"].get<std::int64_t>());
        EXPECT_NEAR(interval.value().low, row["lower"].get<double>(), 1e-9);
        EXPECT_NEAR(interval.value().high, row["upper"].get<double>(), 1e-9);
    }
    ASSERT_EQ(table["grid"].size(), 29U);
    for (const auto& row : table["grid"]) {
        for (const char* level : {"0.8", "0.95", "0.99"}) {
            const auto interval = wilson_interval(
                row["x"].get<std::int64_t>(), row["n"].get<std::int64_t>(), std::stod(level));
            EXPECT_NEAR(interval.value().low, row[std::string{"lo"} + level].get<double>(), 1e-9);
            EXPECT_NEAR(interval.value().high, row[std::string{"hi"} + level].get<double>(), 1e-9);
        }
    }
}

TEST(wilson_interval, stays_within_0_and_1) {
    for (std::int64_t n = 1; n < 40; ++n) {
        for (std::int64_t x = 0; x <= n; ++x) {
            const RateInterval interval = wilson_interval(x, n).value();
            EXPECT_GE(interval.low, 0.0);
            EXPECT_LE(interval.high, 1.0);
            EXPECT_LE(interval.low, static_cast<double>(x) / static_cast<double>(n));
            EXPECT_GE(interval.high, static_cast<double>(x) / static_cast<double>(n));
        }
        EXPECT_EQ(wilson_interval(0, n)->low, 0.0);
        EXPECT_GT(wilson_interval(0, n)->high, 0.08);
        EXPECT_EQ(wilson_interval(n, n)->high, 1.0);
    }
    EXPECT_FALSE(wilson_interval(0, 0).has_value());
}

TEST(poisson_interval, published) {
    const auto vectors = published("garwood.json");
    for (const auto& row : vectors.at("rows")) {
        const RateInterval limits = poisson_interval(row.at("count"));
        const double lower = row.at("lower");
        const double upper = row.at("upper");
        EXPECT_NEAR(limits.low, lower, 1e-10 * lower) << row.at("count");
        EXPECT_NEAR(limits.high, upper, 1e-10 * upper) << row.at("count");
    }
}

/// By the definition: at the limits the tails of the Poisson distribution hold 2.5 %.
TEST(poisson_interval, leaves_two_and_a_half_percent_on_either_side) {
    for (int count = 1; count <= 60; ++count) {
        const RateInterval limits = poisson_interval(count);
        const auto up_to = [](int k, double mean) {
            double term = std::exp(-mean);
            double sum = term;
            for (int i = 1; i <= k; ++i) {
                term *= mean / i;
                sum += term;
            }
            return sum;
        };
        EXPECT_NEAR(1.0 - up_to(count - 1, limits.low), 0.025, 1e-11) << count;
        EXPECT_NEAR(up_to(count, limits.high), 0.025, 1e-11) << count;
    }
}

}  // namespace
}  // namespace linewood
