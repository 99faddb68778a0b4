#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "geo/network/span_feature.hpp"

namespace linewood {

/// A tree of poles (or several), each node after its parent.
struct StretchTree {
    std::vector<std::uint32_t> parent;  ///< kNone = a root
    std::vector<std::int64_t> way;      ///< cost of the way to the parent, at least 0
    std::vector<std::int64_t> value;    ///< gained by taking the node
    std::vector<bool> must;             ///< the node is taken whatever it costs

    std::size_t size() const { return parent.size(); }
};

/// Which nodes are taken, and which of them hang together with their parent.
struct StretchChoice {
    std::vector<bool> taken;
    std::vector<bool> joined;    ///< to the parent, which is taken too
    std::int64_t cost = 0;       ///< ways joined + mobilisations - values taken
    std::int64_t stretches = 0;  ///< connected parts taken, a mobilisation each
};

/// Chooses the nodes and ways for which
///     mobilisation * stretches + sum of ways joined - sum of values taken
/// is least: on a path the maximum of `sum of v_i - M * components`, on a tree the same with the ways
/// between (Bellman; for k segments of a path M. Csuros, 2004). Two nodes are joined where the way
/// between costs no more than another mobilisation. Of equal plans one of fewest stretches, without
/// nodes at its ends that need not be there. Exact, linear time.
/// @pre mobilisation >= 0; the sum of all figures fits in 62 bits.
StretchChoice choose_stretches(const StretchTree& tree, std::int64_t mobilisation);

/// The least cost only.
std::int64_t least_stretch_cost(const StretchTree& tree, std::int64_t mobilisation);

/// Gives up nodes at the ends of stretches that need not be taken and have no value, with the ways to
/// them, until there are none. `cost` and `stretches` are left as they are.
void trim_stretches(const StretchTree& tree, StretchChoice& choice);

}  // namespace linewood
