#include <cmath>

#include <gtest/gtest.h>

#include "geo/stats/gamma_tail.hpp"
#include "geo/stats/normal.hpp"

namespace linewood {
namespace {

TEST(gamma_tail, of_whole_shapes_is_a_finite_sum) {
    for (const double x : {1e-3, 0.5, 1.0, 3.0, 20.0, 200.0}) {
        EXPECT_NEAR(gamma_upper(1.0, x), std::exp(-x), 1e-12 * std::exp(-x));
        const double upper = std::exp(-x) * (1.0 + x + x * x / 2.0);
        EXPECT_NEAR(gamma_upper(3.0, x), upper, 1e-12 * upper);
        EXPECT_NEAR(gamma_lower(3.0, x), 1.0 - upper, 1e-15);
    }
    EXPECT_EQ(gamma_lower(2.0, 0.0), 0.0);
    EXPECT_EQ(gamma_upper(2.0, -1.0), 1.0);
}

TEST(gamma_tail, skewed_by_two_is_exponential) {
    for (const double z : {-0.9, 0.0, 1.0, 4.0, 30.0}) {
        const double upper = std::exp(-(1.0 + z));
        EXPECT_NEAR(skewed_upper(z, 2.0), upper, 1e-12 * upper);
        EXPECT_NEAR(skewed_upper(-z, -2.0), 1.0 - upper, 1e-12);  // turned round
    }
    EXPECT_EQ(skewed_upper(-1.1, 2.0), 1.0);  // below the least there is
    EXPECT_EQ(skewed_upper(1.1, -2.0), 0.0);
}

TEST(gamma_tail, hardly_skewed_is_nearly_normal) {
    for (const double z : {-3.0, 0.0, 2.0, 4.0}) {
        EXPECT_EQ(skewed_upper(z, 0.0), normal_upper(z));
        // Edgeworth's first term: skewness / 6 (z^2 - 1) times the density.
        const double g = 0.006;
        const double term =
            g / 6.0 * (z * z - 1.0) * std::exp(-z * z / 2.0) / std::sqrt(2.0 * M_PI);
        EXPECT_NEAR(skewed_upper(z, g), normal_upper(z) + term, 2e-5 * normal_upper(z) + 1e-6);
    }
}

}  // namespace
}  // namespace linewood
