#include "geo/corridor/drawn_corridors.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linewood {

namespace {

constexpr std::size_t kMostRows = 4096;

double distance_to(Point p, Point a, Point b) {
    const double dx = b.x - a.x;
    const double dy = b.y - a.y;
    const double square = dx * dx + dy * dy;
    const double t =
        square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    return std::hypot(p.x - (a.x + t * dx), p.y - (a.y + t * dy));
}

}  // namespace

DrawnCorridors::DrawnCorridors(const std::vector<DrawnShape>& shapes, double reach_m)
    : reach_m_{reach_m} {
    for (std::uint32_t i = 0; i < shapes.size(); ++i) {
        add_edges(shapes[i], i);
    }
    index_rows();
}

void DrawnCorridors::add_edges(const DrawnShape& shape, std::uint32_t position) {
    for (const auto& part : shape.parts) {
        for (std::size_t i = 1; i < part.size(); ++i) {
            edges_.push_back({part[i - 1], part[i], position});
        }
        if (part.size() == 1) {
            edges_.push_back({part.front(), part.front(), position});
        }
    }
}

void DrawnCorridors::index_rows() {
    if (edges_.empty()) {
        return;
    }
    double top = -std::numeric_limits<double>::infinity();
    bottom_ = std::numeric_limits<double>::infinity();
    for (const Edge& e : edges_) {
        bottom_ = std::min({bottom_, e.a.y - reach_m_, e.b.y - reach_m_});
        top = std::max({top, e.a.y + reach_m_, e.b.y + reach_m_});
    }
    const std::size_t rows = std::clamp<std::size_t>(edges_.size(), 1, kMostRows);
    rows_.resize(rows);
    row_height_ = std::max((top - bottom_) / static_cast<double>(rows), 1e-9);
    for (std::uint32_t i = 0; i < edges_.size(); ++i) {
        const Edge& e = edges_[i];
        const std::size_t last = row_of(std::max(e.a.y, e.b.y) + reach_m_);
        for (std::size_t row = row_of(std::min(e.a.y, e.b.y) - reach_m_); row <= last; ++row) {
            rows_[row].push_back(i);
        }
    }
}

std::size_t DrawnCorridors::row_of(double y) const {
    const double row = std::floor((y - bottom_) / row_height_);
    return static_cast<std::size_t>(std::clamp(row, 0.0, static_cast<double>(rows_.size()) - 1.0));
}

template <typename Use>
void DrawnCorridors::for_each_near(Point p, Use use) const {
    if (rows_.empty()) {
        return;
    }
    // Edges of one shape follow each other, in the order of the shapes.
    for (const std::uint32_t i : rows_[row_of(p.y)]) {
        use(edges_[i]);
    }
}

std::uint32_t DrawnCorridors::at(Point p) const {
    std::uint32_t best = kNone;
    double nearest = reach_m_;
    for_each_near(p, [&](const Edge& e) {
        const double d = distance_to(p, e.a, e.b);
        if (d < nearest || (d == nearest && best == kNone)) {
            nearest = d;
            best = e.shape;
        }
    });
    return best;
}

std::uint32_t DrawnCorridors::count_at(Point p) const {
    std::uint32_t count = 0;
    std::uint32_t shape = kNone;
    bool in_shape = false;
    for_each_near(p, [&](const Edge& e) {
        if (e.shape != shape) {
            count += in_shape ? 1U : 0U;
            shape = e.shape;
            in_shape = false;
        }
        in_shape = in_shape || distance_to(p, e.a, e.b) <= reach_m_;
    });
    return count + (in_shape ? 1U : 0U);
}

}  // namespace linewood
