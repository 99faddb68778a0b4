#pragma once

#include <span>

#include "assess/units/length.hpp"
#include "geo/crs/point.hpp"
#include "src/pipeline/ground_frame.hpp"

namespace linewood {

/// To what the poles' coordinates are rounded: the greatest power of ten, in the layer's own units,
/// that (nearly) all of them are multiples of, as a length on the ground; 0 where they are not rounded
/// to anything, or where there are fewer than 20 poles, which tell nothing. Looks at up to 2,000
/// poles, spread evenly.
Length coordinate_step(std::span<const Point> places, const GroundFrame& frame);

}  // namespace linewood
