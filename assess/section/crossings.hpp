#pragma once

#include <vector>

#include "assess/section/stretches.hpp"

namespace linewood::polar {

/// Appends the angles in [0, 2 pi), inside both stretches, where a bound of one crosses a bound of
/// the other. Every crossing is found; an angle that is none may be among them (it does no harm).
/// (b.high never crosses a.low: it lies on the far side of b.low.)
/// Curves that coincide, or touch without crossing, give none. Closed form, but for an edge and a
/// spiral, which meet at most twice: there bracketed Newton steps on either side of the spiral's
/// point farthest across the edge.
/// @pre a.low <= b.low
void append_crossings(const Stretch& a, const Stretch& b, std::vector<double>& angles);

}  // namespace linewood::polar
