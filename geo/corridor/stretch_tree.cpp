#include "geo/corridor/stretch_tree.hpp"

#include <algorithm>
#include <limits>

namespace linewood {

namespace {

/// More than any plan costs, and still twice of it fits.
constexpr std::int64_t kNever = std::numeric_limits<std::int64_t>::max() / 2;

/// Least costs of the part of the tree below each node, the mobilisation of the node's own stretch
/// not yet counted.
struct Costs {
    std::vector<std::int64_t> on;
    std::vector<std::int64_t> off;
};

Costs costs_of(const StretchTree& tree, std::int64_t mobilisation) {
    Costs costs{std::vector<std::int64_t>(tree.size(), 0),
                std::vector<std::int64_t>(tree.size(), 0)};
    for (std::size_t i = tree.size(); i-- > 0;) {
        costs.on[i] -= tree.value[i];
        if (tree.must[i]) {
            costs.off[i] = kNever;
        }
        const std::uint32_t up = tree.parent[i];
        if (up != kNone) {
            const std::int64_t alone = std::min(costs.off[i], costs.on[i] + mobilisation);
            costs.on[up] += std::min(alone, costs.on[i] + tree.way[i]);
            costs.off[up] += alone;
        }
    }
    return costs;
}

}  // namespace

std::int64_t least_stretch_cost(const StretchTree& tree, std::int64_t mobilisation) {
    const Costs costs = costs_of(tree, mobilisation);
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < tree.size(); ++i) {
        if (tree.parent[i] == kNone) {
            sum += std::min(costs.off[i], costs.on[i] + mobilisation);
        }
    }
    return sum;
}

StretchChoice choose_stretches(const StretchTree& tree, std::int64_t mobilisation) {
    const Costs costs = costs_of(tree, mobilisation);
    StretchChoice choice;
    choice.taken.resize(tree.size());
    choice.joined.resize(tree.size());
    for (std::size_t i = 0; i < tree.size(); ++i) {
        const std::uint32_t up = tree.parent[i];
        const bool joins = up != kNone && choice.taken[up] && tree.way[i] <= mobilisation;
        const std::int64_t step = joins ? tree.way[i] : mobilisation;
        choice.taken[i] = costs.on[i] + step <= costs.off[i];
        choice.joined[i] = choice.taken[i] && joins;
    }
    trim_stretches(tree, choice);
    for (std::size_t i = 0; i < tree.size(); ++i) {
        if (choice.taken[i]) {
            choice.stretches += choice.joined[i] ? 0 : 1;
            choice.cost += (choice.joined[i] ? tree.way[i] : mobilisation) - tree.value[i];
        }
    }
    return choice;
}

void trim_stretches(const StretchTree& tree, StretchChoice& choice) {
    std::vector<std::uint32_t> joins(tree.size(), 0);
    const auto idle = [&](std::size_t i) { return !tree.must[i] && tree.value[i] == 0; };
    for (std::size_t i = 0; i < tree.size(); ++i) {
        if (choice.joined[i]) {
            ++joins[i];
            ++joins[tree.parent[i]];
        }
    }
    // From the leaves up, then from the roots down.
    for (std::size_t i = tree.size(); i-- > 0;) {
        if (choice.taken[i] && idle(i) && joins[i] == (choice.joined[i] ? 1U : 0U)) {
            if (choice.joined[i]) {
                --joins[tree.parent[i]];
            }
            choice.taken[i] = choice.joined[i] = false;
        }
    }
    for (std::size_t i = 0; i < tree.size(); ++i) {
        const std::uint32_t up = tree.parent[i];
        if (choice.joined[i] && !choice.joined[up] && joins[up] == 1 && idle(up)) {
            choice.taken[up] = choice.joined[i] = false;
            --joins[i];
        }
    }
}

}  // namespace linewood
