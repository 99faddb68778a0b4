#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "assess/units/length.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/resolved_span.hpp"

namespace linewood {

/// The points of one part in the order the line runs, which may be against the order drawn. Some may
/// have been put between the vertices drawn, to keep the line where it is: they are no vertices.
class DrawnPath {
public:
    /// @param places where each point was drawn; empty: each is a vertex.
    DrawnPath(std::span<const Point> drawn, bool backwards, std::span<const PathPlace> places = {})
        : drawn_{drawn}, places_{places}, backwards_{backwards} {}

    std::size_t size() const { return drawn_.size(); }
    Point operator[](std::size_t i) const { return drawn_[as_drawn(i)]; }
    bool is_vertex(std::size_t i) const {
        return places_.empty() || places_[as_drawn(i)].fraction == 0.0;
    }
    Point front() const { return (*this)[0]; }
    Point back() const { return (*this)[size() - 1]; }

    Point at(PathPlace place, const Ground& ground) const {
        return place.fraction > 0.0
                   ? point_between(
                         (*this)[place.vertex], (*this)[place.vertex + 1U], place.fraction, ground)
                   : (*this)[place.vertex];
    }

    /// The vertices from one place to another not before it, and both places: at least two points.
    void piece(PathPlace begin, PathPlace end, const Ground& ground, std::vector<Point>& out) const;

    /// The same place counted by vertices in the order drawn.
    PathPlace as_drawn(PathPlace place) const;

private:
    std::size_t as_drawn(std::size_t i) const { return backwards_ ? drawn_.size() - 1 - i : i; }
    PathPlace by_vertices(PathPlace place) const;

    std::span<const Point> drawn_;
    std::span<const PathPlace> places_;
    bool backwards_ = false;
};

/// The distance in the plane touching at `a`: for places within metres of each other, and to tell
/// near from far; further than a kilometre, the geodesic length.
double metres_between(Point a, Point b, const Ground& ground);

/// Where the line goes first on its way from one pole to another: the first bend, or the other
/// pole's own point. See NetworkBuilder for what counts as a bend. Cost: linear in the points passed.
/// @param piece the path from the one to the other, at least its two ends.
/// @param from the one pole's own point.
/// @param to the other's.
Point first_bend(std::span<const Point> piece,
                 Point from,
                 Point to,
                 Length snap_tolerance,
                 const Ground& ground);

}  // namespace linewood
