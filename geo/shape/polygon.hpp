#pragma once

#include <vector>

#include "geo/crs/point.hpp"

namespace linewood {

/// A polygon: its outer ring, then those of its holes. The first point of a ring is not repeated at its end.
using PolygonRings = std::vector<std::vector<Point>>;

/// An area: polygons that do not overlap; none = empty.
using Polygons = std::vector<PolygonRings>;

}  // namespace linewood
