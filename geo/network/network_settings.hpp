#pragma once

#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// How spans are joined to poles, and when a line counts as straight on. Every limit is met when
/// reached exactly (within 1e-6 m or 1e-6 degrees, so that rounding never decides).
struct NetworkSettings {
    /// A span end or route vertex belongs to the nearest pole within this distance.
    Length snap_tolerance = Length::metres(2.0);
    /// A route is also cut at a pole this near to it between its vertices.
    Length interior_cut = Length::metres(0.5);
    /// A named pole (`from_pole`, `to_pole`) wins over geometry however far the drawn end is from
    /// it; with a limit here, only up to it, and where geometry has another pole to offer.
    Maybe<Length> id_distance_limit;
    /// Two neighbours: `tangent` up to this deflection, `angle` above.
    Angle tangent_limit = Angle::degrees(5.0);
    /// Three or more: the first pair gives an axis up to this deflection.
    Angle junction_pair_limit = Angle::degrees(30.0);
    /// A direction given with the pole is doubted beyond this from the axis of its spans (half of an
    /// in-line sector; own choice, no source).
    Angle given_axis_limit = Angle::degrees(15.0);
    /// A pole without neighbours takes the direction of a line within this distance; absent = off.
    Maybe<Length> nearest_line;
    /// The poles' coordinates are rounded to this; counted in the line's quality only. 0 = not
    /// noticeably.
    Length coordinate_step;
};

}  // namespace linewood
