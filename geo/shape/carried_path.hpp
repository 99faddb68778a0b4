#pragma once

#include <functional>
#include <vector>

#include "geo/crs/point.hpp"

namespace linewood {

/// A path or ring carried into other coordinates. Its edges are straight in its own, where carried they may bend: points
/// are put in until no edge is further than `tolerance` from where it belongs (looked at in two places an
/// edge; a ten-thousandth of an edge is the shortest piece). Points that `carry` has no place for (NaN) are left out.
/// @param ring the last point is joined to the first, which is not repeated.
std::vector<Point> carried_path(const std::vector<Point>& path,
                                bool ring,
                                double tolerance,
                                const std::function<Point(Point)>& carry);

}  // namespace linewood
