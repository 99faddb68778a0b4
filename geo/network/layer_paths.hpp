#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// Carries paths to the ground so that what is straight in the layer's coordinates stays where it is
/// drawn: a line straight in a projection is none in longitude and latitude, and kilometres of it bulge
/// by metres. Points are put between the vertices of long segments until the straight way from point to
/// point lies within a centimetre.
///
/// Segments of ordinary spans get none, and cost a look at their length: what is added begins at some
/// 300 m at 45 degrees, less near a pole of the Earth. At most 65,536 points are added to a path.
class LayerPaths {
public:
    /// Layer coordinates to the ground, in place; NaN where a point has no place.
    using Carry = std::function<void(std::span<Point>)>;

    /// @param straight the layer's lines are straight on the ground as well (its coordinates are
    ///        longitude and latitude, or the ground is the layer's plane): nothing is ever added.
    LayerPaths(const Ground& ground, Carry to_ground, bool straight);

    struct Path {
        std::vector<Point> points;
        std::vector<PathPlace> places;  ///< of each point; empty where each is a vertex
    };
    /// A path with a point that has no place gets no points added.
    Path carry(std::vector<Point> in_layer) const;

private:
    struct Segment;
    bool may_bulge(Point a, Point b) const;
    bool bulges(const Segment& segment) const;
    void fill(const Segment& segment, std::size_t most, Path& out) const;

    Ground ground_;
    Carry to_ground_;
    bool straight_;
};

}  // namespace linewood
