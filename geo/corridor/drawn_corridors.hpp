#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "geo/crs/point.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// One corridor as a user has drawn it: lines, in metres as the points asked.
struct DrawnShape {
    std::vector<std::vector<Point>> parts;
};

/// Answers which of many strips along drawn lines a point is in. Edges are kept by rows of equal height, so that an
/// answer looks at the edges around the point only.
class DrawnCorridors {
public:
    /// A point is in the strip of the nearest line that is at most `reach_m` away (half the width); equally
    /// near: the first given.
    DrawnCorridors(const std::vector<DrawnShape>& shapes, double reach_m);

    /// The position of the shape, kNone for none. @pre finite
    std::uint32_t at(Point p) const;
    /// How many of the shapes the point is in, for saying that they overlap.
    std::uint32_t count_at(Point p) const;

private:
    struct Edge {
        Point a;
        Point b;
        std::uint32_t shape = 0;
    };

    void add_edges(const DrawnShape& shape, std::uint32_t position);
    void index_rows();
    std::size_t row_of(double y) const;
    template <typename Use>
    void for_each_near(Point p, Use use) const;

    double reach_m_;
    std::vector<Edge> edges_;
    // Edges by rows of equal height: what is at a point is in its row.
    double bottom_ = 0.0;
    double row_height_ = 1.0;
    std::vector<std::vector<std::uint32_t>> rows_;
};

}  // namespace linewood
