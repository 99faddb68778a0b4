#include "geo/corridor/stretches.hpp"

#include <random>

#include <gtest/gtest.h>

#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

std::vector<Stretch> read_stretches(const nlohmann::json& rows) {
    std::vector<Stretch> out;
    for (const auto& row : rows) {
        out.push_back({row.at(0), row.at(1), row.at(2)});
    }
    return out;
}

/// By the definition, in n^4.
std::vector<Stretch> by_definition(const std::vector<std::int64_t>& scores) {
    std::vector<std::int64_t> sum{0};
    for (const std::int64_t score : scores) {
        sum.push_back(sum.back() + score);
    }
    std::vector<Stretch> good;
    for (std::size_t b = 0; b < scores.size(); ++b) {
        for (std::size_t e = b + 1; e <= scores.size(); ++e) {
            bool holds = sum[b] < sum[e];
            for (std::size_t k = b + 1; k < e; ++k) {
                holds = holds && sum[k] > sum[b] && sum[k] < sum[e];
            }
            if (holds) {
                good.push_back({b, e, sum[e] - sum[b]});
            }
        }
    }
    std::vector<Stretch> maximal;
    for (const Stretch& s : good) {
        bool inside = false;
        for (const Stretch& t : good) {
            inside = inside || (!(s == t) && t.begin <= s.begin && s.end <= t.end);
        }
        if (!inside) {
            maximal.push_back(s);
        }
    }
    return maximal;
}

TEST(MaximalStretches, AreThoseOfThePaper) {
    const nlohmann::json vectors = testing::stats_vectors("ruzzo_tompa.json");
    const auto scores = vectors.at("paper").at("scores").get<std::vector<std::int64_t>>();
    EXPECT_EQ(maximal_stretches(scores), read_stretches(vectors.at("paper").at("segments")));
    for (const auto& row : vectors.at("random")) {
        EXPECT_EQ(maximal_stretches(row.at("scores").get<std::vector<std::int64_t>>()),
                  read_stretches(row.at("segments")));
    }
}

TEST(MaximalStretches, AreThoseOfTheDefinition) {
    std::mt19937 random{3};
    for (int round = 0; round < 3000; ++round) {
        std::vector<std::int64_t> scores(random() % 24U);
        for (std::int64_t& score : scores) {
            score = static_cast<std::int64_t>(random() % 9U) - 4;
        }
        ASSERT_EQ(maximal_stretches(scores), by_definition(scores)) << round;
    }
}

TEST(StretchScores, AreLogLikelihoodRatios) {
    const StretchScores tenth = stretch_scores(10, 100);  // 10 % against 30 %
    EXPECT_EQ(tenth.reject, 1099);                        // ln 3
    EXPECT_EQ(tenth.sound, -251);                         // ln (0.7 / 0.9)
    const StretchScores many = stretch_scores(25, 100);   // against 50 %, not 75 %
    EXPECT_EQ(many.reject, 693);
    EXPECT_EQ(many.sound, -405);
    for (const auto& [rejects, assessed] : {std::pair{0, 10}, {0, 0}, {5, 10}, {9, 10}}) {
        EXPECT_EQ(stretch_scores(rejects, assessed).reject, 0);
        EXPECT_EQ(stretch_scores(rejects, assessed).sound, 0);
    }
}

}  // namespace
}  // namespace linewood
