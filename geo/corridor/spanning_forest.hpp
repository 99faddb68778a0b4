#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "geo/corridor/line_graph.hpp"

namespace linewood {

/// What the steps of a graph cost to a crew that goes on along them.
struct StepCosts {
    std::vector<std::int64_t> way;  ///< money, thousandths
    std::vector<std::int64_t> millimetres;
    std::int64_t most = 0;  ///< a step that costs more than this is never gone along
};

/// The graph without rings, for methods that need a tree.
struct SpanningForest {
    /// A step left out to break a ring.
    struct Break {
        std::uint32_t step = 0;
        /// What a crew pays at least that goes along it: all the way between the jobs or branches on
        /// either side of it.
        std::int64_t way = 0;
        /// The way over it from the job nearest to the one side to the job nearest to the other. What it
        /// joined can be joined in the forest for that at most: Kruskal has found no longer way around.
        std::int64_t bridge = 0;

        /// By how much the forest may be dearer without it, at this cost of a mobilisation.
        std::int64_t loss(std::int64_t mobilisation) const {
            return std::max<std::int64_t>(0, std::min(mobilisation, bridge) - way);
        }
    };
    /// A step between two catchments that is in the forest, one of its nodes, and the way over it from
    /// job to job. Together a shortest tree over all jobs as if each two had a way of their own. Of
    /// networks with rings only.
    struct Bridge {
        std::uint32_t node = 0;
        std::int64_t way = 0;
    };
    std::vector<bool> in_tree;  ///< of each step
    std::vector<Break> breaks;  ///< by their steps
    std::vector<Bridge> bridges;
};

/// Each node by its shortest way to the nearest job (K. Mehlhorn, Inf. Process. Lett. 27, 1988), then
/// the shortest bridges between these (short is cheap, or where all ways are free, short); ties: the step of lower number, which is that of the lower pole
/// ids. Networks without rings are left whole; steps that cost more than `most` are not in it.
/// Cost: linear, where there are rings n log n; under 2 s for a million poles.
SpanningForest spanning_forest(const LineGraph& graph,
                               const std::vector<bool>& job,
                               const StepCosts& costs);

}  // namespace linewood
