#pragma once

#include "assess/section/inline_list.hpp"
#include "assess/section/moments.hpp"
#include "assess/section/plane.hpp"
#include "assess/units/angle.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

struct WeakestDirection {
    double modulus = 0.0;  ///< m^3, the least over all load directions
    /// The load direction of that least modulus, e along J^-1 p for the point p that governs (not the
    /// axis of bending). Of several within 1e-9 of the least, the one of least azimuth in [0, 180).
    /// Absent where all directions agree to 1e-9, and where nothing is left.
    Maybe<Axis> axis;
};

/// What carries, in figures that a person can check: metres, x east and y north of the disc's centre.
struct BendingFigures {
    double area = 0.0;
    double centroid_x = 0.0;
    double centroid_y = 0.0;
    double xx = 0.0;  ///< integral of x^2 about the centroid
    double xy = 0.0;  ///< integral of x y about the centroid
    double yy = 0.0;  ///< integral of y^2 about the centroid
};

/// The fibre that a load strains most, in the same frame: S = 1 / |k.(p - centroid)|.
struct ExtremeFibre {
    double x = 0.0;  ///< p
    double y = 0.0;
    double k_x = 0.0;  ///< k = J^-1 e, 1/m^4
    double k_y = 0.0;
    double modulus = 0.0;  ///< m^3
};

namespace polar {

/// Part of a circle around the disc's centre that bounds wood from outside.
struct RimArc {
    Vec middle;       ///< unit vector to the middle of the arc
    double cos_half;  ///< cosine of half its angle; -1 for the whole circle
    double radius;
};

}  // namespace polar

/// The parts of a section's boundary where stress can be greatest, and its stiffness, in the frame of
/// its principal axes (lengths in radii). Only corners and arcs that bound wood from outside can
/// carry the greatest |k.p|: everywhere else the boundary is straight or bends away from the wood.
class Outline {
public:
    /// Nothing left: moduli 0, no axis.
    Outline() = default;

    /// @param radius of the disc in metres
    /// @param moments about the disc's centre
    Outline(double radius, const polar::Moments& moments);

    /// For a section symmetric about the bearing `frame`: as above, with the moments given in that
    /// frame (x along `frame`); no axes have to be found.
    static Outline symmetric(double radius, Bearing frame, const polar::Moments& moments);

    /// Points and arcs in the frame the moments were given in, lengths in radii.
    void add_corner(polar::Vec p) { corners_.push_back(to_frame(p)); }
    void add_arc(const polar::RimArc& arc);

    /// S(load), m^3. Cost: one sine and cosine, then a few ns for each corner and arc.
    double modulus(Bearing load) const;
    /// The point that gives modulus(load); of several alike the first found. Nothing left: zeros.
    ExtremeFibre extreme_fibre(Bearing load) const;
    BendingFigures figures() const;
    /// Exact: the greatest |J^-1 p| over corners and arcs; on an arc this is the point of an ellipse
    /// farthest from a given point, found by bracketed Newton steps.
    WeakestDirection weakest() const;

private:
    using Vec = polar::Vec;
    using Candidates = InlineList<Vec, 12>;

    template <typename See>
    void for_each_extreme(Vec k, const See& see) const;
    Vec to_frame(Vec p) const;
    Vec to_east_north(Vec in_frame) const;
    Vec per_stress(Vec p) const;
    Candidates extreme_stresses() const;
    bool all_directions_agree(double greatest) const;
    double largest_gap(double radius) const;
    double azimuth_of(Vec v) const;

    double radius_ = 0.0;
    double area_ = 0.0;         ///< in squared radii
    double frame_ = 0.0;        ///< degrees, bearing of the x axis of the frame
    Vec axis_{1.0, 0.0};        ///< the frame's x axis in the frame the moments were given in
    Vec compliance_{0.0, 0.0};  ///< 1 / second moment along x and y
    Vec centroid_{0.0, 0.0};
    InlineList<Vec, 4> corners_;
    InlineList<polar::RimArc, 2> arcs_;
};

}  // namespace linewood
