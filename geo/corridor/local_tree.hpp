#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geo/corridor/job_split.hpp"
#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/spanning_forest.hpp"
#include "geo/corridor/stretch_tree.hpp"

namespace linewood {

/// A connected part of the spanning forest, rooted at its least node, children in ascending order.
struct LocalTree {
    StretchTree tree;
    std::vector<std::uint32_t> node;   ///< of the graph
    std::vector<std::uint32_t> step;   ///< of the graph, to the parent; kNone at the root
    std::vector<std::int64_t> way_mm;  ///< to the parent
};

/// Collects parts of the forest one after the other.
class LocalTrees {
public:
    /// All must outlive it.
    LocalTrees(const LineGraph& graph,
               const SpanningForest& forest,
               const StepCosts& costs,
               const std::vector<bool>& job);

    /// The part around `node`, which was in none before.
    LocalTree around(std::uint32_t node);
    bool seen(std::uint32_t node) const { return seen_[node]; }

private:
    const LineGraph& graph_;
    const SpanningForest& forest_;
    const StepCosts& costs_;
    const std::vector<bool>& job_;
    std::vector<bool> seen_;
};

/// What became of stretches that pass the limits.
struct LimitCut {
    bool any = false;        ///< there were some
    std::int64_t slack = 0;  ///< they cannot be cut for more than this less
};

/// Cuts the stretches of `choice` that pass the limits, and trims what is left over.
/// @param day_thousandths crew-days of the job at each position, 0 where there is none.
LimitCut cut_to_limits(const LocalTree& local,
                       const std::vector<std::int64_t>& day_thousandths,
                       std::int64_t mobilisation,
                       const JobLoad& limits,
                       StretchChoice& choice);

/// The stretch of each node: its root's position, kNone where the node is not taken.
std::vector<std::uint32_t> stretch_roots(const StretchTree& tree, const StretchChoice& choice);

/// How many projects the limits ask for at least.
/// @param jobs all of them, each counted with no more crew-days than the limit.
std::int64_t least_projects(const JobLoad& jobs, const JobLoad& limits);

/// What the projects of a tree cost at least when limits ask for more of them: the best of a few
/// Lagrange bounds, for a price put on each project and on each millimetre.
/// @param way_mm to the parent of each node.
/// @param breaks of the rings that were broken to make the tree.
/// @param jobs as for least_projects.
std::int64_t limited_bound(const StretchTree& tree,
                           const std::vector<std::int64_t>& way_mm,
                           const std::vector<SpanningForest::Break>& breaks,
                           std::int64_t mobilisation,
                           const JobLoad& jobs,
                           const JobLoad& limits);

}  // namespace linewood
