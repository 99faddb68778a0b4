#pragma once

#include <vector>

#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// A cavity open to the outside. With n the outward unit vector at `azimuth` and t square to it,
/// it takes away all p of the disc of radius R with
///     |p.t| <= width / 2,   p.n >= min(0, R - depth)   and   |p| >= R - depth:
/// straight sides, and a bottom that follows the surface. Width may exceed the diameter and depth
/// the radius; the section is cut as far as the geometry allows.
struct Pocket {
    Bearing azimuth;
    Length width;
    Length depth;
    /// Its vertical extent is known to be under one diameter (see RemainingSection).
    bool local = false;
};

/// The distance from the present surface to internal rot at one azimuth; the radius where a bore
/// found sound wood.
struct ShellReading {
    Bearing azimuth;
    Length thickness;
};

/// One cross-section of a pole now: a disc, less its pockets, less the void. Between readings the
/// shell runs linearly in angle around the circle; one reading alone is taken all round; the void is
/// r(a) <= R - t(a) where that is positive. No readings: no void.
/// @pre radius >= 0, widths, depths and thicknesses >= 0, all finite.
/// Readings within 1 degree of each other are merged by the caller (the least stands).
struct SectionShape {
    Length radius;
    std::vector<Pocket> pockets;
    std::vector<ShellReading> shell;
    bool void_local = false;  ///< as Pocket::local, for the void
};

}  // namespace linewood
