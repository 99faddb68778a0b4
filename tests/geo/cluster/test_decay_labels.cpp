#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/decay_labels.hpp"
#include "geo/cluster/id_order.hpp"

namespace linewood {
namespace {

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
