#pragma once

#include <vector>

#include "geo/crs/point.hpp"
#include "geo/shape/polygon.hpp"

namespace linewood {

/// What is drawn around: spans and single poles, in metres.
struct OutlineOf {
    std::vector<std::vector<Point>> lines;
    std::vector<Point> points;
};

/// An area around lines and points: everything within `margin_m` of them, and what lies between where two
/// are less than 2 (margin + closing) apart. With a small margin it follows the spans; with a
/// large closing it is a hull.
/// @pre margin_m > 0, closing_m >= 0, coordinates finite. Lines of one point are points.
Polygons outline(const OutlineOf& what, double margin_m, double closing_m);

/// What of `area` is in none of `others`.
Polygons cut_away(const Polygons& area, const std::vector<Polygons>& others);

/// The size of an area, in the square of its unit.
double area_of(const Polygons& area);

/// The same area with its borders put right where they cross themselves; as it is where they do not.
Polygons made_valid(const Polygons& area, bool& was_valid);

}  // namespace linewood
