#pragma once

#include "assess/section/mechanics.hpp"
#include "assess/section/shape.hpp"

namespace linewood {

/// Any section, by a sweep of a ray around the disc's centre. On a ray each cavity takes away one
/// radial interval, bounded by arcs around the centre, straight edges and the linear shell. Between
/// the azimuths where those bounds begin, end or cross, what is left is a fixed stack of bands.
/// Bands are integrated exactly and joined to pieces where they share part of a ray.
/// For every shape that one_pocket can do, both agree to 1e-9 of the solid section.
/// @pre see SectionShape
Mechanics sweep(const SectionShape& shape);

}  // namespace linewood
