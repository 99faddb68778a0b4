#pragma once

#include "assess/units/angle.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// The straight way between two places: its length, and its true azimuth where it leaves the first
/// and where it arrives at the second (both looking forward, so `end` is also the azimuth in which
/// it would go on).
struct Course {
    double length_m = 0.0;
    Bearing start;
    Bearing end;
};

/// The surface the network lies on: an ellipsoid (points are longitude and latitude in degrees), or
/// a plane (points are in one unit of length, x east, y north; grid north is taken as true).
/// Cheap to copy, safe to use from many threads.
class Ground {
public:
    /// Azimuths and lengths are geodesic (PROJ's geodesic routines, Karney 2013, about 15 nm).
    /// @pre semi_major_m > 0, 0 <= flattening < 1.
    static Ground geodesic(double semi_major_m, double flattening);
    /// @pre metres_per_unit > 0.
    static Ground planar(double metres_per_unit);

    /// The shortest way, across the 180th meridian where that is nearer. Coincident points: length 0
    /// and both azimuths 0.
    Course course(Point from, Point to) const;

    bool is_planar() const { return planar_; }

    /// Metres per unit of x and of y around `at`; for searching within metres of a place, not for
    /// reporting. Right to 1e-4 relative within 100 m of it at latitudes up to 85 degrees.
    struct Scale {
        double x_m = 1.0;
        double y_m = 1.0;
    };
    Scale scale_at(Point at) const;

    /// The step east from `from.x` to `to.x`, taken the short way round on an ellipsoid.
    double x_step(double from_x, double to_x) const;

private:
    Ground() = default;
    double semi_major_m_ = 0.0;
    double flattening_ = 0.0;
    double metres_per_unit_ = 1.0;
    bool planar_ = false;
};

}  // namespace linewood
