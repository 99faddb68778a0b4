#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// Puts the parts of a line that were drawn out of order into the order they join in: each begins
/// within the tolerance of where the one before it ends. Left as they are where they do not make one
/// chain from a single beginning: a gap, a fork, a ring, or a part drawn against the others.
/// @param order indices of the parts that are used; put in another order.
/// @pre these parts have points, and all are places.
/// Cost: the square of the number of parts, up to 64 parts; more are left as drawn.
void order_parts(std::span<const std::span<const Point>> parts,
                 double tolerance_m,
                 const Ground& ground,
                 std::vector<std::uint32_t>& order);

}  // namespace linewood
