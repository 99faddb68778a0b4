#pragma once

namespace linewood {

/// A place in some plane or on the ellipsoid: x east or longitude, y north or latitude, always in
/// this order whatever the authority's axis order. Which of the two is said where it is used.
struct Point {
    double x = 0.0;
    double y = 0.0;

    friend bool operator==(Point, Point) = default;
};

}  // namespace linewood
