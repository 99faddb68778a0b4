#pragma once

#include <vector>

#include "assess/section/moments.hpp"
#include "assess/section/plane.hpp"
#include "assess/section/shape.hpp"

namespace linewood::polar {

/// A boundary curve as distance from the disc's centre over a range of angle.
struct Curve {
    enum class Kind { arc, edge, spiral };

    Kind kind = Kind::arc;
    double size = 0.0;    ///< arc: radius; edge: distance from the centre; spiral: r at the begin
    double slope = 0.0;   ///< spiral: per radian
    double normal = 0.0;  ///< edge: angle of the foot of the perpendicular from the centre
    Vec unit{1.0, 0.0};   ///< edge: the same as a unit vector

    static Curve arc(double radius);
    static Curve edge(double distance, double normal);
    static Curve spiral(double r0, double slope);

    /// @param ray unit vector of the ray
    /// @param offset its angle from the begin of the stretch that the curve bounds
    /// @return in [0, 1]; an edge seen end-on from outside its stretch is cut at the rim
    double at(Vec ray, double offset) const;
};

/// A range of angle over which one cavity takes away the radial interval [low, high] of every ray.
/// What cavities leave is bounded from outside by arcs only, since `low` is constant: only `high`
/// may be an edge or a spiral.
struct Stretch {
    double begin = 0.0;  ///< in [0, 2 pi)
    double span = 0.0;   ///< in (0, 2 pi]
    double low = 0.0;
    Curve high;
    int cavity = 0;  ///< index of the pocket in the shape; the void comes after the last pocket

    /// Angle from `begin` on to `angle`, in [0, 2 pi). @pre angle in [0, 2 pi)
    double offset(double angle) const;
    /// With a tolerance for ends that rounding has moved. @pre angle in [0, 2 pi)
    bool holds(double angle) const;
};

/// All cavities of a shape as stretches, by rising `low`. Pockets or void parts under 1e-12 R are
/// left out. @pre shape.radius > 0
std::vector<Stretch> stretches_of(const SectionShape& shape);

}  // namespace linewood::polar
