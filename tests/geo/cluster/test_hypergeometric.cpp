#include <cmath>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/hypergeometric.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "tests/geo/cluster/reference_data.hpp"
#include "tests/support/published_table.hpp"

namespace linewood {
namespace {

std::uint64_t choose(std::uint64_t n, std::uint64_t k) {
    if (k > n) {
        return 0;
    }
    std::uint64_t c = 1;
    for (std::uint64_t i = 1; i <= k; ++i) {
        c = c * (n - k + i) / i;
    }
    return c;
}

/// P(X >= c) in whole numbers: the ways that have it over all ways. @pre poles <= 40
double by_counting(const Sample& s, std::uint32_t c) {
    std::uint64_t ways = 0;
    for (std::uint32_t k = c; k <= s.drawn; ++k) {
        ways += choose(s.decayed, k) * choose(s.poles - s.decayed, s.drawn - k);
    }
    return static_cast<double>(ways) / static_cast<double>(choose(s.poles, s.drawn));
}

TEST(hypergeometric, is_the_share_of_all_samples) {
    for (const std::uint32_t poles : {1U, 2U, 7U, 23U, 40U}) {
        for (std::uint32_t decayed = 0; decayed <= poles; ++decayed) {
            for (std::uint32_t drawn = 0; drawn <= poles; ++drawn) {
                for (std::uint32_t c = 0; c <= drawn + 1; ++c) {
                    const Sample sample{poles, decayed, drawn};
                    const double exact = by_counting(sample, c);
                    ASSERT_NEAR(hypergeometric_tail(sample, c), exact, 1e-12 * exact)
                        << poles << " " << decayed << " " << drawn << " " << c;
                }
            }
        }
    }
}

TEST(hypergeometric, published_exact_sums) {
    const auto rows = test::published_table("stats/hypergeometric_exact.txt");
    ASSERT_EQ(rows.size(), 19U);
    for (const auto& row : rows) {
        const auto whole = [&](std::size_t i) {
            return static_cast<std::uint32_t>(test::number(row[i]));
        };
        const Sample sample{whole(0), whole(1), whole(2)};
        const double log_p = test::number(row[5]);
        EXPECT_NEAR(log_hypergeometric_tail(sample, whole(3)), log_p, 1e-10) << row[4];
        if (log_p > -700.0) {  // what is smaller has fewer digits
            const double p = test::number(row[4]);
            EXPECT_NEAR(hypergeometric_tail(sample, whole(3)), p, 1e-10 * p);
        }
    }
}

TEST(hypergeometric, what_cannot_be_has_no_chance) {
    EXPECT_EQ(hypergeometric_tail({10, 3, 5}, 4), 0.0);
    EXPECT_EQ(log_hypergeometric_tail({10, 3, 5}, 4), -std::numeric_limits<double>::infinity());
    EXPECT_EQ(hypergeometric_tail({10, 8, 5}, 3), 1.0);
    EXPECT_EQ(hypergeometric_tail({10, 3, 5}, 0), 1.0);
}

/// All ways to draw from three strata, weighed one by one.
double by_enumeration(const std::vector<Sample>& s, std::uint32_t count) {
    double p = 0.0;
    for (std::uint32_t a = 0; a <= s[0].drawn; ++a) {
        for (std::uint32_t b = 0; b <= s[1].drawn; ++b) {
            for (std::uint32_t c = 0; c <= s[2].drawn; ++c) {
                if (a + b + c >= count) {
                    double ways = 1.0;
                    const std::uint32_t k[] = {a, b, c};
                    for (std::size_t i = 0; i < 3; ++i) {
                        ways *= static_cast<double>(
                            choose(s[i].decayed, k[i]) *
                            choose(s[i].poles - s[i].decayed, s[i].drawn - k[i]));
                        ways /= static_cast<double>(choose(s[i].poles, s[i].drawn));
                    }
                    p += ways;
                }
            }
        }
    }
    return p;
}

TEST(stratified_tail, is_the_sum_over_all_ways) {
    const std::vector<std::vector<Sample>> cases{
        {{30, 4, 6}, {20, 15, 5}, {10, 5, 4}},
        {{30, 0, 6}, {20, 20, 5}, {10, 5, 4}},
        {{1, 1, 1}, {1, 0, 1}, {25, 12, 9}},
        {{40, 2, 12}, {40, 3, 12}, {40, 1, 12}},
    };
    for (const auto& strata : cases) {
        for (std::uint32_t count = 0; count <= 20; ++count) {
            const double exact = by_enumeration(strata, count);
            EXPECT_NEAR(stratified_tail(strata, count).p, exact, 1e-12) << count;
            if (exact < 0.1) {
                EXPECT_NEAR(stratified_tail(strata, count).p, exact, 1e-11 * exact) << count;
            }
        }
    }
}

TEST(stratified_tail, one_stratum_is_the_plain_one) {
    const Sample sample{100, 25, 9};
    const std::vector<Sample> strata{{50, 10, 0}, sample};
    const StratifiedTail tail = stratified_tail(strata, 6);
    EXPECT_DOUBLE_EQ(tail.p, hypergeometric_tail(sample, 6));
    EXPECT_NEAR(tail.z.value(), 3.01096895798247, 1e-10);  // nc_sids74_knn8, county 4
}

TEST(stratified_tail, nothing_drawn_or_nothing_random) {
    EXPECT_EQ(stratified_tail({}, 0).p, 1.0);
    const std::vector<Sample> certain{{10, 10, 4}, {10, 0, 3}};
    const StratifiedTail tail = stratified_tail(certain, 4);
    EXPECT_EQ(tail.p, 1.0);
    EXPECT_FALSE(tail.z.has_value());
    EXPECT_EQ(tail.expected, 4.0);
}

TEST(decay_hot_spots, reference_longleaf_in_strata) {
    const auto table = test::reference("gistar_stratified_longleaf.json");
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& in = table["inputs"];
    const auto& expected = table["expected"];
    const auto decayed = test::labels(in["case"]);
    const auto stratum = in["stratum"].get<std::vector<std::uint32_t>>();
    const NeighbourRows rows =
        band_rows(PlaneNeighbours{test::points(in["xy"])}, in["band"].get<double>());
    const auto scores = decay_hot_spots(decayed, stratum, rows, {1, 1});
    ASSERT_EQ(scores.size(), 584U);
    for (std::size_t i = 0; i < scores.size(); ++i) {
        EXPECT_EQ(scores[i].poles, expected["n_i"][i].get<std::uint32_t>());
        EXPECT_EQ(scores[i].decayed, expected["c_i"][i].get<std::uint32_t>());
        EXPECT_NEAR(scores[i].expected, expected["E"][i].get<double>(), 1e-9);
        if (expected["Var"][i].get<double>() > 0.0) {
            EXPECT_NEAR(scores[i].z.value(), expected["z"][i].get<double>(), 1e-9);
        }
        EXPECT_NEAR(scores[i].p.value(), expected["p_exact_ge"][i].get<double>(), 1e-8);
    }
}

TEST(decay_hot_spots, leave_small_neighbourhoods_out) {
    std::vector<Point> poles;
    for (int i = 0; i < 40; ++i) {
        poles.push_back({40.0 * i, 0.0});
    }
    std::vector<std::uint8_t> decayed(40, 0);
    decayed[0] = decayed[1] = decayed[2] = 1;
    const PlaneNeighbours plane{poles};
    const auto few = decay_hot_spots(decayed, {}, nearest_rows(plane, 3));
    EXPECT_EQ(few[0].poles, 4U);
    EXPECT_FALSE(few[0].z.has_value());
    EXPECT_FALSE(few[0].p.has_value());
    const auto more = decay_hot_spots(decayed, {}, nearest_rows(plane, 4));
    EXPECT_FALSE(more[0].z.has_value());
    EXPECT_NEAR(more[0].p.value(), by_counting({40, 3, 5}, 3), 1e-12);
}

}  // namespace
}  // namespace linewood
