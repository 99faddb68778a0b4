#include <array>
#include <map>

#include <gtest/gtest.h>

#include "geo/stats/replicate_random.hpp"
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

}  // namespace
}  // namespace linewood
