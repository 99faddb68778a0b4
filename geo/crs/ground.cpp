#include "geo/crs/ground.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <geodesic.h>

namespace linewood {
namespace {

constexpr double kRadiansPerDegree = std::numbers::pi / 180.0;

/// The series of an ellipsoid, kept for the next call: setting them up costs a fifth of a course.
const geod_geodesic& series_of(double semi_major_m, double flattening) {
    thread_local geod_geodesic kept{};
    thread_local double kept_a = 0.0;
    thread_local double kept_f = 0.0;
    if (kept_a != semi_major_m || kept_f != flattening) {
        geod_init(&kept, semi_major_m, flattening);
        kept_a = semi_major_m;
        kept_f = flattening;
    }
    return kept;
}

}  // namespace

Ground Ground::geodesic(double semi_major_m, double flattening) {
    assert(semi_major_m > 0.0 && flattening >= 0.0 && flattening < 1.0);
    Ground g;
    g.semi_major_m_ = semi_major_m;
    g.flattening_ = flattening;
    return g;
}

Ground Ground::planar(double metres_per_unit) {
    assert(metres_per_unit > 0.0);
    Ground g;
    g.metres_per_unit_ = metres_per_unit;
    g.planar_ = true;
    return g;
}

Course Ground::course(Point from, Point to) const {
    Course c;
    double start = 0.0;
    double end = 0.0;
    if (planar_) {
        const double dx = to.x - from.x;
        const double dy = to.y - from.y;
        c.length_m = std::hypot(dx, dy) * metres_per_unit_;
        start = end = std::atan2(dx, dy) / kRadiansPerDegree;
    } else {
        geod_inverse(&series_of(semi_major_m_, flattening_),
                     from.y,
                     from.x,
                     to.y,
                     to.x,
                     &c.length_m,
                     &start,
                     &end);
    }
    if (c.length_m != 0.0) {
        c.start = Bearing::degrees(start);
        c.end = Bearing::degrees(end);
    }
    return c;
}

Ground::Scale Ground::scale_at(Point at) const {
    if (planar_) {
        return {metres_per_unit_, metres_per_unit_};
    }
    const double latitude = std::clamp(at.y, -90.0, 90.0) * kRadiansPerDegree;
    const double e2 = flattening_ * (2.0 - flattening_);
    const double s = std::sin(latitude);
    const double w2 = 1.0 - e2 * s * s;
    const double prime_vertical = semi_major_m_ / std::sqrt(w2);
    const double meridian = prime_vertical * (1.0 - e2) / w2;
    return {prime_vertical * std::cos(latitude) * kRadiansPerDegree, meridian * kRadiansPerDegree};
}

double Ground::x_step(double from_x, double to_x) const {
    const double step = to_x - from_x;
    return planar_ ? step : std::remainder(step, 360.0);
}

}  // namespace linewood
