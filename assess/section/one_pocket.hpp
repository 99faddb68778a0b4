#pragma once

#include "assess/section/mechanics.hpp"
#include "assess/section/shape.hpp"

namespace linewood {

/// Whether `one_pocket` can do this shape: radius over 0, no pocket or one shallower than the radius,
/// no shell readings or equal ones whose void stays clear of the pocket (by 1e-9 R) and leaves wood.
bool is_one_pocket(const SectionShape& shape);

/// The section in closed form: the pocket is the difference of two strips, and the section is
/// symmetric about the pocket's azimuth. One piece. No allocation.
/// @pre is_one_pocket(shape)
Mechanics one_pocket(const SectionShape& shape);

}  // namespace linewood
