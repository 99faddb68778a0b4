#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/runs.hpp"

namespace linewood {

/// Which runs make one corridor.
enum class RunGrouping : std::uint8_t {
    run,     ///< each is one
    chain,   ///< those that follow each other through the junctions of one circuit
    circuit  ///< all that hang together and are of the same circuits
};

/// A corridor made of runs. Two runs are of one circuit where the sets of their circuits are equal; those
/// without a recorded circuit are of one set, the empty one.
struct RunGroup {
    std::vector<std::uint32_t> runs;  ///< a chain: in its order; else ascending
    double length_m = 0.0;
};

/// The runs in groups: each in exactly one; groups in the order of their least runs.
///
/// A **chain** is cut from a circuit so: a tree of shortest ways from its start, the dead end of least pole
/// id (where there is none: the least end of a run); from there on always into the branch that reaches
/// furthest, the others begin chains of their own. Runs that close a ring are chains of their own.
/// Nothing depends on the order of the layers. Cost: n log n in the runs.
std::vector<RunGroup> group_runs(const LineGraph& graph, const Runs& runs, RunGrouping grouping);

}  // namespace linewood
