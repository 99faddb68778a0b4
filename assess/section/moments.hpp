#pragma once

#include "assess/section/plane.hpp"

namespace linewood::polar {

/// Area, first and second moments of a region about one origin. Regions add and subtract.
struct Moments {
    double area = 0.0;
    double x = 0.0;   ///< integral of x
    double y = 0.0;   ///< integral of y
    double xx = 0.0;  ///< integral of x^2
    double xy = 0.0;  ///< integral of x y
    double yy = 0.0;  ///< integral of y^2

    Moments& operator+=(const Moments& o);
    Moments& operator-=(const Moments& o);
    friend Moments operator+(Moments a, const Moments& b) { return a += b; }
    friend Moments operator-(Moments a, const Moments& b) { return a -= b; }

    /// @pre area > 0
    Vec centroid() const { return {x / area, y / area}; }
    /// The same region seen from another origin (parallel axes).
    Moments about(Vec origin) const;
};

// What a boundary sweeps out with a ray from the origin: the boundary integrals of a region whose
// outline is made of such curves are the sums of these, with their signs. Angles from `begin`
// counter-clockwise (x to y) over `span`; a negative span gives the negative region.

/// Arc of radius r around the origin: a sector. Closed form.
Moments under_arc(double r, double begin, double span);
/// The same with the ends given as unit vectors, for callers that have them.
Moments under_arc(double r, Vec begin, Vec end, double span);
/// Straight edge from p to q: a triangle. Closed form.
Moments under_edge(Vec p, Vec q);
/// r linear in angle, from `r0` at `begin` with `slope` per radian. Gauss-Legendre with 8 points on
/// at most a quarter turn: error under 1e-14 for r <= 1.
Moments under_spiral(double r0, double slope, double begin, double span);

/// {|y| <= h, 0 <= x <= sqrt(r^2 - y^2)}: a strip from the centre out to the circle of radius r.
/// Closed form. @pre 0 <= h <= r, r > 0
Moments under_strip(double r, double h);

}  // namespace linewood::polar
