#include "geo/corridor/stretch_tree.hpp"

#include <limits>
#include <random>
#include <utility>

#include <gtest/gtest.h>

#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

/// A tree from a list of edges, rooted at node 0. `place` is where each node of the list is.
struct Rooted {
    StretchTree tree;
    std::vector<std::uint32_t> node;

    Rooted(const std::vector<std::int64_t>& values,
           const std::vector<std::pair<std::uint32_t, std::uint32_t>>& edges) {
        std::vector<std::vector<std::uint32_t>> next(values.size());
        for (const auto& [a, b] : edges) {
            next[a].push_back(b);
            next[b].push_back(a);
        }
        std::vector<bool> seen(values.size(), false);
        for (std::uint32_t root = 0; root < values.size(); ++root) {
            if (!seen[root]) {
                seen[root] = true;
                add(root, kNone, values);
                for (std::size_t i = node.size() - 1; i < node.size(); ++i) {
                    for (const std::uint32_t to : next[node[i]]) {
                        if (!seen[to]) {
                            seen[to] = true;
                            add(to, static_cast<std::uint32_t>(i), values);
                        }
                    }
                }
            }
        }
    }

private:
    void add(std::uint32_t at, std::uint32_t parent, const std::vector<std::int64_t>& values) {
        node.push_back(at);
        tree.parent.push_back(parent);
        tree.way.push_back(0);
        tree.value.push_back(values[at]);
        tree.must.push_back(false);
    }
};

/// The value of what was taken, less a mobilisation for each connected part of it.
std::int64_t worth(const StretchTree& tree,
                   const StretchChoice& choice,
                   std::int64_t mobilisation) {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < tree.size(); ++i) {
        if (choice.taken[i]) {
            const bool joined = tree.parent[i] != kNone && choice.taken[tree.parent[i]];
            sum += tree.value[i] - (joined ? 0 : mobilisation);
        }
    }
    return sum;
}

void expect_best(const nlohmann::json& row, bool path) {
    const auto values = row.at("value").get<std::vector<std::int64_t>>();
    std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
    if (path) {
        for (std::uint32_t i = 0; i + 1 < values.size(); ++i) {
            edges.emplace_back(i, i + 1);
        }
    } else {
        edges = row.at("edges").get<std::vector<std::pair<std::uint32_t, std::uint32_t>>>();
    }
    const std::int64_t mobilisation = row.at("mobilisation");
    const Rooted rooted{values, edges};
    const StretchChoice choice = choose_stretches(rooted.tree, mobilisation);
    EXPECT_EQ(worth(rooted.tree, choice, mobilisation), row.at("best").get<std::int64_t>());
    EXPECT_EQ(-choice.cost, row.at("best").get<std::int64_t>());
}

TEST(StretchTree, FindsTheBestOfTheVectors) {
    const nlohmann::json vectors = testing::stats_vectors("corridor_mobilisation.json");
    int checked = 0;
    for (const char* set : {"path_small", "path_mid", "tree_small", "tree_mid"}) {
        for (const auto& row : vectors.at(set)) {
            expect_best(row, set[0] == 'p');
            ++checked;
        }
    }
    EXPECT_EQ(checked, 30);
}

/// Every way of taking nodes and links of a small tree: the least cost, then the fewest stretches.
std::pair<std::int64_t, std::int64_t> by_trying(const StretchTree& tree,
                                                std::int64_t mobilisation) {
    std::pair best{std::numeric_limits<std::int64_t>::max(), std::int64_t{0}};
    const std::size_t n = tree.size();
    for (unsigned taken = 0; taken < (1U << n); ++taken) {
        std::int64_t cost = 0;
        std::int64_t stretches = 0;
        bool allowed = true;
        for (std::size_t i = 0; i < n; ++i) {
            const bool here = (taken >> i & 1U) != 0;
            allowed = allowed && (here || !tree.must[i]);
            if (here) {
                const bool up = tree.parent[i] != kNone && (taken >> tree.parent[i] & 1U) != 0;
                const bool joined = up && tree.way[i] <= mobilisation;
                cost += (joined ? tree.way[i] : mobilisation) - tree.value[i];
                stretches += joined ? 0 : 1;
            }
        }
        if (allowed) {
            best = std::min(best, {cost, stretches});
        }
    }
    return best;
}

TEST(StretchTree, FindsTheBestOfSmallTrees) {
    std::mt19937 random{11};
    for (int round = 0; round < 4000; ++round) {
        StretchTree tree;
        const std::size_t n = 1 + random() % 10U;
        const bool optional = random() % 2U == 0;
        for (std::size_t i = 0; i < n; ++i) {
            tree.parent.push_back(
                i == 0 || random() % 8U == 0 ? kNone : static_cast<std::uint32_t>(random() % i));
            tree.way.push_back(static_cast<std::int64_t>(random() % 8U));
            tree.value.push_back(optional ? static_cast<std::int64_t>(random() % 9U) - 5 : 0);
            tree.must.push_back(random() % 3U == 0);
        }
        const auto mobilisation = static_cast<std::int64_t>(random() % 8U);
        const StretchChoice choice = choose_stretches(tree, mobilisation);
        const auto [cost, stretches] = by_trying(tree, mobilisation);
        ASSERT_EQ(choice.cost, cost) << round;
        ASSERT_EQ(least_stretch_cost(tree, mobilisation), cost) << round;
        if (!optional) {
            ASSERT_EQ(choice.stretches, stretches) << round;
        }
        for (std::size_t i = 0; i < n; ++i) {
            ASSERT_TRUE(choice.taken[i] || !tree.must[i]);
            ASSERT_TRUE(!choice.joined[i] || (choice.taken[i] && choice.taken[tree.parent[i]]));
        }
    }
}

}  // namespace
}  // namespace linewood
