#include <algorithm>
#include <cmath>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/false_discovery.hpp"
#include "geo/cluster/getis_ord.hpp"
#include "geo/cluster/hypergeometric.hpp"
#include "geo/cluster/join_count.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/stats/normal.hpp"
#include "geo/stats/replicate_random.hpp"
#include "tests/geo/cluster/reference_data.hpp"

namespace linewood {
namespace {

constexpr GetisOrdSettings kEvery{true, 1};
constexpr GetisOrdSettings kEveryGi{false, 1};

class counties : public ::testing::TestWithParam<const char*> {
protected:
    test::json table_ = test::published(GetParam());
    std::vector<double> x_ = test::numbers(table_["x"]);
    std::vector<std::uint8_t> binary_ = test::labels(table_["binary"]);
    NeighbourRows rows_ = test::rows_of(table_["neighbours"]);
};

TEST_P(counties, have_the_published_gi_and_gi_star) {
    const auto star = getis_ord(x_, rows_, {}, kEvery);
    const auto plain = getis_ord(x_, rows_, {}, kEveryGi);
    std::vector<std::optional<double>> p;
    for (std::size_t i = 0; i < x_.size(); ++i) {
        EXPECT_NEAR(star[i].z.value(), table_["gistar_z"][i].get<double>(), 1e-8) << i;
        EXPECT_NEAR(plain[i].z.value(), table_["gi_z"][i].get<double>(), 1e-8) << i;
        EXPECT_NEAR(star[i].p.value(), table_["gistar_p_two_sided"][i].get<double>(), 1e-8) << i;
        EXPECT_EQ(star[i].poles, plain[i].poles + 1);
        p.push_back(star[i].p);
    }
    const auto bh = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
    const auto by = adjusted_p(p, FalseDiscovery::benjamini_yekutieli);
    for (std::size_t i = 0; i < x_.size(); ++i) {
        EXPECT_NEAR(bh[i].value(), table_["gistar_p_bh"][i].get<double>(), 1e-8) << i;
        EXPECT_NEAR(by[i].value(), table_["gistar_p_by"][i].get<double>(), 1e-8) << i;
    }
}

TEST_P(counties, have_the_published_exact_p) {
    const auto& expected = table_["binary_case"];
    const auto scores = decay_hot_spots(binary_, {}, rows_, {1, 1});
    const auto poles = expected["N"].get<std::uint32_t>();
    const auto decayed = expected["C"].get<std::uint32_t>();
    std::vector<std::optional<double>> p;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        const HotSpotScore& score = scores[i];
        EXPECT_EQ(score.poles, expected["n_i"][i].get<std::uint32_t>());
        EXPECT_EQ(score.decayed, expected["c_i"][i].get<std::uint32_t>());
        EXPECT_NEAR(score.z.value(), expected["gistar_z"][i].get<double>(), 1e-8) << i;
        const auto exact = expected["p_hyper_ge"][i].get<double>();
        EXPECT_NEAR(score.p.value(), exact, 1e-10 * exact) << i;
        // With the own label fixed: the others drawn around it.
        const std::uint32_t own = binary_[i];
        const double fixed =
            hypergeometric_tail({poles - 1, decayed - own, score.poles - 1}, score.decayed - own);
        const auto published = expected["p_hyper_cond_ge"][i].get<double>();
        EXPECT_NEAR(fixed, published, 1e-10 * published) << i;
        p.push_back(score.p);
    }
    const auto bh = adjusted_p(p, FalseDiscovery::benjamini_hochberg);
    for (std::size_t i = 0; i < scores.size(); ++i) {
        EXPECT_NEAR(bh[i].value(), expected["p_hyper_bh"][i].get<double>(), 1e-10) << i;
    }
}

/// Of decayed poles, and of the others.
TEST_P(counties, have_the_published_join_count) {
    std::vector<std::uint8_t> others;
    for (const std::uint8_t label : binary_) {
        others.push_back(label == 0 ? 1 : 0);
    }
    for (const bool decayed : {true, false}) {
        const JoinCount count = join_count(decayed ? binary_ : others, rows_);
        const auto& expected = table_[decayed ? "join_count" : "join_count_others"];
        EXPECT_NEAR(count.joins, expected["stat"].get<double>(), 1e-12);
        EXPECT_NEAR(count.expected, expected["expectation"].get<double>(), 1e-8);
        EXPECT_NEAR(count.variance, expected["variance"].get<double>(), 1e-8);
        EXPECT_NEAR(count.z.value(), expected["z"].get<double>(), 1e-8);
        EXPECT_NEAR(count.p.value(), expected["p_greater"].get<double>(), 1e-8);
    }
}

TEST_P(counties, gi_star_of_labels_is_the_standard_score_of_the_exact_count) {
    const std::vector<double> x(binary_.begin(), binary_.end());
    const auto gi = getis_ord(x, rows_, {}, kEvery);
    const auto exact = decay_hot_spots(binary_, {}, rows_, {1, 1});
    for (std::size_t i = 0; i < x.size(); ++i) {
        EXPECT_NEAR(gi[i].z.value(), exact[i].z.value(), 1e-12);
    }
}

INSTANTIATE_TEST_SUITE_P(published,
                         counties,
                         ::testing::Values("nc_sids74_band33.json", "nc_sids74_knn8.json"),
                         [](const auto& one) { return one.index == 0 ? "band33" : "knn8"; });

struct Field {
    std::vector<Point> poles;
    std::vector<double> value;
    NeighbourRows rows;
};

Field field(std::size_t count, double reach) {
    Field f;
    ReplicateRandom random{11, count};
    for (std::size_t i = 0; i < count; ++i) {
        f.poles.push_back({random.below(1000) * 1.0, random.below(1000) * 1.0});
        f.value.push_back(random.below(1001) * 0.1);
    }
    f.rows = band_rows(PlaneNeighbours{f.poles}, reach);
    return f;
}

TEST(getis_ord, weights_are_those_of_the_formula) {
    const Field f = field(60, 300.0);
    std::vector<double> weight;
    for (std::size_t i = 0; i < 60; ++i) {
        for (const Near& near : f.rows.row(i)) {
            weight.push_back(1.0 / (1.0 + to_metres(near.um) / 100.0));
        }
    }
    for (const bool star : {true, false}) {
        const auto scores = getis_ord(f.value, f.rows, weight, {star, 1});
        for (std::size_t i = 0; i < 60; ++i) {
            // Ord & Getis, word by word.
            std::vector<double> x;
            std::vector<double> w;
            for (std::size_t j = 0; j < 60; ++j) {
                if (star || j != i) {
                    x.push_back(f.value[j]);
                    w.push_back(j == i ? 1.0 : 0.0);
                }
            }
            const auto row = f.rows.row(i);
            for (std::size_t k = 0; k < row.size(); ++k) {
                w[row[k].pole - (!star && row[k].pole > i ? 1 : 0)] =
                    weight[f.rows.begin_of(i) + k];
            }
            const auto n = static_cast<double>(x.size());
            double mean = 0;
            double square = 0;
            double sw = 0;
            double sw2 = 0;
            double swx = 0;
            for (std::size_t j = 0; j < x.size(); ++j) {
                mean += x[j] / n;
                square += x[j] * x[j] / n;
                sw += w[j];
                sw2 += w[j] * w[j];
                swx += w[j] * x[j];
            }
            const double s = std::sqrt(square - mean * mean);
            const double z = (swx - sw * mean) / (s * std::sqrt((n * sw2 - sw * sw) / (n - 1)));
            ASSERT_TRUE(scores[i].z.has_value());
            EXPECT_NEAR(*scores[i].z, z, 1e-10);
        }
    }
}

TEST(getis_ord, row_standardising_changes_nothing) {
    const Field f = field(80, 250.0);
    std::vector<double> weight;
    for (std::size_t i = 0; i < 80; ++i) {
        for (std::size_t k = 0; k < f.rows.row(i).size(); ++k) {
            weight.push_back(1.0 / static_cast<double>(f.rows.row(i).size()));
        }
    }
    const auto plain = getis_ord(f.value, f.rows, {}, kEveryGi);
    const auto standardised = getis_ord(f.value, f.rows, weight, kEveryGi);
    for (std::size_t i = 0; i < 80; ++i) {
        ASSERT_EQ(plain[i].z.has_value(), standardised[i].z.has_value());
        if (plain[i].z) {
            EXPECT_NEAR(*plain[i].z, *standardised[i].z, 1e-11);
        }
    }
}

TEST(getis_ord, shift_and_scale_of_the_values_change_nothing) {
    const Field f = field(80, 250.0);
    std::vector<double> other;
    for (const double v : f.value) {
        other.push_back(1e6 + 0.01 * v);
    }
    const auto a = getis_ord(f.value, f.rows, {}, kEvery);
    const auto b = getis_ord(other, f.rows, {}, kEvery);
    for (std::size_t i = 0; i < 80; ++i) {
        EXPECT_NEAR(a[i].z.value(), b[i].z.value(), 1e-6);
    }
}

TEST(getis_ord, small_neighbourhoods_have_no_score) {
    // A line of 20: the dead ends see 4 poles and the middle sees 7 within three spans, 9 in four.
    std::vector<Point> poles;
    std::vector<double> value;
    for (int i = 0; i < 20; ++i) {
        poles.push_back({40.0 * i, 0.0});
        value.push_back(i < 10 ? 90.0 : 40.0 + i);
    }
    const PlaneNeighbours plane{poles};
    for (const auto& score : getis_ord(value, band_rows(plane, 120.0))) {
        EXPECT_LE(score.poles, 7U);
        EXPECT_FALSE(score.z.has_value());
        EXPECT_FALSE(score.p.has_value());
    }
    const auto wider = getis_ord(value, band_rows(plane, 160.0));
    EXPECT_EQ(wider[0].poles, 5U);  // nothing is made up beyond the end of the line
    EXPECT_FALSE(wider[0].z.has_value());
    EXPECT_EQ(wider[10].poles, 9U);
    EXPECT_TRUE(wider[10].z.has_value());
}

TEST(getis_ord, equal_values_have_no_score) {
    const Field f = field(50, 400.0);
    for (const double v : {0.0, 1.0, 65.3, 1e9 / 3}) {
        for (const bool star : {true, false}) {
            for (const auto& score : getis_ord(std::vector<double>(50, v), f.rows, {}, {star, 1})) {
                EXPECT_FALSE(score.z.has_value());
            }
        }
    }
    // All but one are equal: without it there is no deviation.
    std::vector<double> one(50, 7.7);
    one[4] = 9.9;
    EXPECT_FALSE(getis_ord(one, f.rows, {}, kEveryGi)[4].z.has_value());
    EXPECT_TRUE(getis_ord(one, f.rows, {}, kEvery)[4].z.has_value());
}

TEST(getis_ord, one_pole_and_all_poles_have_no_score) {
    const Field f = field(12, 1e6);
    for (const auto& score : getis_ord(f.value, f.rows)) {
        EXPECT_EQ(score.poles, 12U);
        EXPECT_FALSE(score.z.has_value());
    }
    const std::vector<double> value{50.0};
    NeighbourRows alone;
    alone.end_row();
    EXPECT_FALSE(getis_ord(value, alone, {}, kEvery)[0].z.has_value());
    EXPECT_FALSE(getis_ord(value, alone, {}, kEveryGi)[0].z.has_value());
    EXPECT_TRUE(getis_ord({}, NeighbourRows{}).empty());
}

/// Mean and variance over all ways to deal the values within strata, one by one.
TEST(getis_ord_within, moments_are_those_of_all_ways_to_deal_within_strata) {
    const std::vector<double> value{30, 75, 90, 100, 96, 97, 100, 55, 60, 88};
    const std::vector<std::uint32_t> stratum{0, 0, 0, 0, 2, 2, 2, 1, 1, 3};
    NeighbourRows rows;  // of pole 0: two more of its stratum, one of each of the others
    for (const std::uint32_t near : {1U, 2U, 5U, 7U, 9U}) {
        rows.add({1, near});
    }
    rows.end_row();
    for (std::size_t i = 1; i < value.size(); ++i) {
        rows.end_row();
    }
    std::vector<double> sums;
    std::vector<std::size_t> a{0, 1, 2, 3};
    do {
        std::vector<std::size_t> b{4, 5, 6};
        do {
            for (const std::size_t c : {7U, 8U}) {
                sums.push_back(value[a[0]] + value[a[1]] + value[a[2]] + value[b[1]] + value[c] +
                               value[9]);
            }
        } while (std::next_permutation(b.begin(), b.end()));
    } while (std::next_permutation(a.begin(), a.end()));
    double mean = 0.0;
    for (const double sum : sums) {
        mean += sum / static_cast<double>(sums.size());
    }
    double variance = 0.0;
    for (const double sum : sums) {
        variance += (sum - mean) * (sum - mean) / static_cast<double>(sums.size());
    }
    double cubed = 0.0;
    for (const double sum : sums) {
        cubed += std::pow(sum - mean, 3.0) / static_cast<double>(sums.size());
    }
    const GetisOrdScore score = getis_ord_within(value, stratum, rows, kEvery)[0];
    const double seen = 30.0 + 75.0 + 90.0 + 97.0 + 55.0 + 88.0;
    EXPECT_NEAR(score.z.value(), (seen - mean) / std::sqrt(variance), 1e-12);
    EXPECT_NEAR(score.skewness, cubed / std::pow(variance, 1.5), 1e-12);
    EXPECT_EQ(score.poles, 6U);
    EXPECT_EQ(score.varying, 5U);  // the only one of its stratum cannot be dealt otherwise
    EXPECT_FALSE(getis_ord_within(value, stratum, rows, {true, 6})[0].z.has_value());
}

TEST(getis_ord_within, of_one_stratum_is_gi_star) {
    const Field f = field(80, 250.0);
    const auto plain = getis_ord(f.value, f.rows, {}, kEvery);
    const auto within =
        getis_ord_within(f.value, std::vector<std::uint32_t>(80, 0), f.rows, kEvery);
    const auto without = getis_ord_within(f.value, {}, f.rows, kEvery);
    for (std::size_t i = 0; i < 80; ++i) {
        ASSERT_EQ(plain[i].z.has_value(), within[i].z.has_value());
        if (plain[i].z) {
            EXPECT_NEAR(*plain[i].z, *within[i].z, 1e-9);
            EXPECT_EQ(within[i].z, without[i].z);
            EXPECT_GE(*within[i].p, *plain[i].p * (1.0 - 1e-9));  // on the safe side
        }
    }
}

TEST(getis_ord_within, of_labels_is_the_standard_score_of_the_exact_count) {
    const Field f = field(90, 250.0);
    ReplicateRandom random{12, 0};
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> stratum;
    for (std::size_t i = 0; i < 90; ++i) {
        stratum.push_back(random.below(4));
        decayed.push_back(random.below(10) < 2 * stratum.back() ? 1 : 0);
    }
    const std::vector<double> x(decayed.begin(), decayed.end());
    const auto within = getis_ord_within(x, stratum, f.rows, kEvery);
    const auto exact = decay_hot_spots(decayed, stratum, f.rows, {1, 1});
    for (std::size_t i = 0; i < x.size(); ++i) {
        ASSERT_EQ(within[i].z.has_value(), exact[i].z.has_value()) << i;
        EXPECT_NEAR(within[i].z.value_or(0.0), exact[i].z.value_or(0.0), 1e-9) << i;
    }
}

TEST(join_count, of_few_or_equal_labels_has_no_score) {
    const Field f = field(12, 400.0);
    for (const auto label : {std::uint8_t{0}, std::uint8_t{1}}) {
        const JoinCount count = join_count(std::vector<std::uint8_t>(12, label), f.rows);
        EXPECT_FALSE(count.z.has_value());
        EXPECT_NEAR(count.joins, count.expected, 1e-9);
    }
    const std::vector<std::uint8_t> two{1, 1, 0};
    NeighbourRows rows;
    for (std::uint32_t i = 0; i < 3; ++i) {
        rows.add({1, (i + 1) % 3});
        rows.end_row();
    }
    EXPECT_FALSE(join_count(two, rows).z.has_value());
}

/// Mean and variance over all labellings, counted one by one.
TEST(join_count, moments_are_those_of_all_labellings) {
    const Field f = field(10, 350.0);
    double n = 0;
    double sum = 0;
    double sum2 = 0;
    JoinCount any;
    for (unsigned mask = 0; mask < 1024; ++mask) {
        std::vector<std::uint8_t> decayed;
        unsigned count = 0;
        for (unsigned i = 0; i < 10; ++i) {
            decayed.push_back((mask >> i) & 1U);
            count += (mask >> i) & 1U;
        }
        if (count == 4) {
            any = join_count(decayed, f.rows);
            n += 1;
            sum += any.joins;
            sum2 += any.joins * any.joins;
        }
    }
    EXPECT_NEAR(any.expected, sum / n, 1e-12);
    EXPECT_NEAR(any.variance, sum2 / n - sum / n * sum / n, 1e-10);
}

TEST(normal, tails_and_quantiles) {
    for (const double p : {1e-300, 1e-20, 0.001, 0.3, 0.5, 0.9, 0.999}) {
        const double z = normal_quantile(p);
        EXPECT_NEAR(normal_upper(-z), p, 1e-12 * p);
        EXPECT_NEAR(normal_two_sided(z), 2.0 * std::min(p, 1.0 - p), 1e-12);
    }
    // Computed with Python's statistics.NormalDist; familiar from any table.
    EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-14);
    EXPECT_NEAR(normal_quantile(0.999), 3.090232306167813, 1e-14);
    EXPECT_NEAR(normal_quantile(0.1), -1.2815515655446004, 1e-14);
}

}  // namespace
}  // namespace linewood
