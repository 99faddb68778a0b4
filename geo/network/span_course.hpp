#pragma once

#include <limits>
#include <span>
#include <vector>

#include "assess/units/length.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// How a span runs between its two poles. NaN where it leads nowhere.
struct SpanCourse {
    double length_m = std::numeric_limits<double>::quiet_NaN();      ///< geodesic, along its path
    double azimuth = std::numeric_limits<double>::quiet_NaN();       ///< leaving the first; degrees
    double back_azimuth = std::numeric_limits<double>::quiet_NaN();  ///< leaving the second
    double reach_m = 0.0;       ///< from the first to what gives `azimuth`
    double back_reach_m = 0.0;  ///< from the second to what gives `back_azimuth`
};

/// Measures spans; keeps room between calls. One geodesic (0.6 us) for a straight span whose path
/// ends at its poles, one more for each piece of any other.
class SpanSurveyor {
public:
    SpanSurveyor(const Ground& ground, Length snap_tolerance)
        : ground_{ground}, snap_tolerance_{snap_tolerance} {}

    /// @param piece the path drawn between the poles, at least two points.
    /// @param from the first pole's own point.
    /// @param to the second's.
    SpanCourse measure(std::span<const Point> piece, Point from, Point to);

private:
    Ground ground_;
    Length snap_tolerance_;
    std::vector<Point> reversed_;
};

}  // namespace linewood
