#include "geo/network/layer_paths.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "geo/network/drawn_path.hpp"
#include "geo/network/pole_grid.hpp"

namespace linewood {
namespace {

/// Half of the tolerance that kStraightMetres is for bends; own choice, no source.
constexpr double kBulgeMetres = 0.005;
constexpr std::size_t kMostAdded = 65536;
constexpr int kDeepest = 20;
constexpr double kMetresPerDegree = 111320.0;
constexpr double kEarthRadius = 6371000.0;

Point part_way(Point a, Point b, double fraction) {
    return {a.x + fraction * (b.x - a.x), a.y + fraction * (b.y - a.y)};
}

}  // namespace

/// A piece of the straight way between two vertices.
struct LayerPaths::Segment {
    Point begin_in_layer;
    Point end_in_layer;
    Point begin;  ///< on the ground
    Point end;
    std::uint32_t vertex = 0;  ///< before it
    double from = 0.0;         ///< of the way between the vertices
    double to = 1.0;
    int depth = 0;
};

LayerPaths::LayerPaths(const Ground& ground, Carry to_ground, bool straight)
    : ground_{ground},
      to_ground_{std::move(to_ground)},
      straight_{straight || ground.is_planar()} {}

/// False where the bulge is below the tolerance by the length alone: an arc of length L and curvature k
/// bulges by k L^2 / 8, and lines straight in a map bend against lines straight in longitude and
/// latitude by some tan(latitude) / radius; taken three times as much, not to miss any.
bool LayerPaths::may_bulge(Point a, Point b) const {
    const double dy = (b.y - a.y) * kMetresPerDegree;
    const double dx = ground_.x_step(a.x, b.x) * kMetresPerDegree;
    const double cosine =
        std::cos(std::max(std::abs(a.y), std::abs(b.y)) * std::numbers::pi / 180.0);
    const double length_squared = dx * dx * cosine * cosine + dy * dy;
    return length_squared * (cosine + 2.0) > 8.0 * kBulgeMetres * kEarthRadius * cosine;
}

bool LayerPaths::bulges(const Segment& s) const {
    // Three places: a line across a central meridian is bent both ways, and straight half-way.
    constexpr std::array kFractions{0.25, 0.5, 0.75};
    std::array<Point, 3> drawn{};
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        drawn[i] = part_way(s.begin_in_layer, s.end_in_layer, kFractions[i]);
    }
    to_ground_(drawn);
    for (std::size_t i = 0; i < drawn.size(); ++i) {
        const Point straight = point_between(s.begin, s.end, kFractions[i], ground_);
        if (is_place(drawn[i], ground_) &&
            metres_between(drawn[i], straight, ground_) > kBulgeMetres) {
            return true;
        }
    }
    return false;
}

/// Appends the points inside a segment.
void LayerPaths::fill(const Segment& s, std::size_t most, Path& out) const {
    if (s.depth >= kDeepest || out.points.size() >= most || !may_bulge(s.begin, s.end) ||
        !bulges(s)) {
        return;
    }
    const Point middle_in_layer = part_way(s.begin_in_layer, s.end_in_layer, 0.5);
    Point middle = middle_in_layer;
    to_ground_({&middle, 1});
    if (!is_place(middle, ground_)) {
        return;
    }
    const double half = 0.5 * (s.from + s.to);
    fill({s.begin_in_layer, middle_in_layer, s.begin, middle, s.vertex, s.from, half, s.depth + 1},
         most,
         out);
    out.points.push_back(middle);
    out.places.push_back({s.vertex, half});
    fill({middle_in_layer, s.end_in_layer, middle, s.end, s.vertex, half, s.to, s.depth + 1},
         most,
         out);
}

LayerPaths::Path LayerPaths::carry(std::vector<Point> in_layer) const {
    if (straight_) {
        to_ground_(in_layer);
        return {std::move(in_layer), {}};
    }
    std::vector<Point> vertices = in_layer;
    to_ground_(vertices);
    const auto bent = [&](Point a, Point b) { return may_bulge(a, b); };
    if (std::adjacent_find(vertices.begin(), vertices.end(), bent) == vertices.end() ||
        !std::all_of(
            vertices.begin(), vertices.end(), [&](Point p) { return is_place(p, ground_); })) {
        return {std::move(vertices), {}};
    }
    Path path;
    const std::size_t most = vertices.size() + kMostAdded;
    for (std::size_t i = 0; i < vertices.size(); ++i) {
        const auto vertex = static_cast<std::uint32_t>(i);
        path.points.push_back(vertices[i]);
        path.places.push_back({vertex, 0.0});
        if (i + 1 < vertices.size()) {
            fill({in_layer[i], in_layer[i + 1], vertices[i], vertices[i + 1], vertex},
                 most - (vertices.size() - i - 1),
                 path);
        }
    }
    if (path.points.size() == vertices.size()) {
        path.places.clear();
    }
    return path;
}

}  // namespace linewood
