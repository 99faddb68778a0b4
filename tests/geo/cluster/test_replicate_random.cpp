#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/id_order.hpp"
#include "geo/cluster/replicate_random.hpp"
#include "tests/support/published_table.hpp"

namespace linewood {
namespace {

TEST(replicate_random, gives_the_numbers_a_second_program_gives) {
    const auto rows = test::published_table("stats/replicate_random.txt");
    ASSERT_EQ(rows.size(), 8U);
    for (const auto& row : rows) {
        ReplicateRandom random{std::stoull(row[1]), std::stoull(row[2])};
        for (std::size_t i = 4; i < row.size(); ++i) {
            const std::uint64_t number =
                row[0] == "next" ? random.next()
                                 : random.below(static_cast<std::uint32_t>(std::stoull(row[3])));
            EXPECT_EQ(number, std::stoull(row[i])) << row[0] << " " << row[1] << " " << row[2];
        }
    }
}

TEST(replicate_random, bounded_numbers_are_even) {
    ReplicateRandom random{5, 0};
    std::array<double, 7> seen{};
    for (int i = 0; i < 70000; ++i) {
        ++seen.at(random.below(7));
    }
    double chi2 = 0.0;
    for (const double n : seen) {
        chi2 += (n - 10000.0) * (n - 10000.0) / 10000.0;
    }
    EXPECT_LT(chi2, 22.5);  // 99.9 % of chi-square with 6 degrees of freedom
    EXPECT_GT(chi2, 0.38);  // 0.1 %
}

TEST(replicate_random, every_order_is_as_likely) {
    std::map<std::array<int, 4>, int> seen;
    for (std::uint64_t replicate = 0; replicate < 24000; ++replicate) {
        ReplicateRandom random{1, replicate};
        std::array<int, 4> order{0, 1, 2, 3};
        random.shuffle(std::span<int>{order});
        ++seen[order];
    }
    ASSERT_EQ(seen.size(), 24U);
    double chi2 = 0.0;
    for (const auto& [order, n] : seen) {
        chi2 += (n - 1000.0) * (n - 1000.0) / 1000.0;
    }
    EXPECT_LT(chi2, 49.7);  // 99.9 %, 23 degrees of freedom
    EXPECT_GT(chi2, 7.5);   // 0.1 %
}

TEST(decay_labels, keep_the_number_decayed_in_every_stratum) {
    std::vector<std::uint8_t> decayed;
    std::vector<std::uint32_t> stratum;
    for (std::uint32_t i = 0; i < 60; ++i) {
        stratum.push_back(i % 4);
        decayed.push_back(i % 4 == 0 ? 0 : i % 4 == 1 ? 1 : (i % 3 == 0 ? 1 : 0));
    }
    DecayLabels labels{decayed, stratum};
    EXPECT_EQ(labels.strata()[0].decayed, 0U);
    EXPECT_EQ(labels.strata()[1].decayed, 15U);
    std::vector<std::uint32_t> drawn;
    std::set<std::vector<std::uint32_t>> different;
    for (std::uint64_t replicate = 0; replicate < 50; ++replicate) {
        labels.draw(3, replicate, drawn);
        std::array<std::uint32_t, 4> count{};
        for (const std::uint32_t pole : drawn) {
            ++count.at(stratum[pole]);
        }
        for (std::size_t s = 0; s < 4; ++s) {
            EXPECT_EQ(count.at(s), labels.strata()[s].decayed);
        }
        std::sort(drawn.begin(), drawn.end());
        EXPECT_TRUE(std::adjacent_find(drawn.begin(), drawn.end()) == drawn.end());
        different.insert(drawn);
    }
    EXPECT_EQ(different.size(), 50U);
}

TEST(decay_labels, replicates_do_not_depend_on_those_before) {
    const std::vector<std::uint8_t> decayed{1, 0, 0, 1, 0, 1, 0, 0, 0, 1};
    DecayLabels one{decayed, {}};
    DecayLabels other{decayed, {}};
    std::vector<std::uint32_t> drawn;
    for (std::uint64_t replicate = 0; replicate < 20; ++replicate) {
        one.draw(1, replicate, drawn);
    }
    std::vector<std::uint32_t> again;
    other.draw(1, 19, again);
    EXPECT_EQ(drawn, again);
}

TEST(decay_labels, every_pole_is_decayed_as_often) {
    const std::vector<std::uint8_t> decayed{1, 0, 0, 1, 0, 1, 0, 0, 0, 1};
    DecayLabels labels{decayed, {}};
    std::array<double, 10> seen{};
    std::vector<std::uint32_t> drawn;
    for (std::uint64_t replicate = 0; replicate < 10000; ++replicate) {
        labels.draw(9, replicate, drawn);
        for (const std::uint32_t pole : drawn) {
            ++seen.at(pole);
        }
    }
    for (const double n : seen) {
        EXPECT_NEAR(n, 4000.0, 4.0 * std::sqrt(10000 * 0.4 * 0.6));
    }
}

TEST(id_order, is_that_of_the_bytes) {
    const std::vector<std::string_view> ids{"P10", "P9", "", "p1", "P10", "\xC3\xA4"};
    EXPECT_EQ(id_order(ids), (std::vector<std::uint32_t>{2, 0, 4, 1, 3, 5}));
    EXPECT_TRUE(id_order({}).empty());
}

}  // namespace
}  // namespace linewood
