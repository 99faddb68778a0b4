#include "geo/cluster/area_cells.hpp"

#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace linewood {
namespace {

constexpr double kSame = 1e-6;  // m

bool is_odd(std::int64_t row) { return (row & 1) != 0; }

std::int64_t floored(double value) { return static_cast<std::int64_t>(std::floor(value)); }

/// The cell of a row of squares; on a border the lower one.
std::int64_t square_step(double along, double side) {
    return static_cast<std::int64_t>(std::ceil((along - kSame) / side)) - 1;
}

}  // namespace

AreaGrid AreaGrid::hexagons(double circumradius_m) {
    assert(circumradius_m > 0.0);
    return {true, circumradius_m};
}

AreaGrid AreaGrid::squares(double side_m) {
    assert(side_m > 0.0);
    return {false, side_m};
}

CellIndex AreaGrid::cell_of(Point at) const { return hexagonal_ ? hexagon_of(at) : square_of(at); }

CellIndex AreaGrid::square_of(Point at) const {
    return {square_step(at.y, size_m_), square_step(at.x, size_m_)};
}

/// The nearest centre is in the row below or the row above, and there on either side.
CellIndex AreaGrid::hexagon_of(Point at) const {
    const double wide = size_m_ * std::numbers::sqrt3;
    CellIndex best;
    double least = std::numeric_limits<double>::infinity();
    const std::int64_t below = floored(at.y / (1.5 * size_m_));
    for (std::int64_t row = below; row <= below + 1; ++row) {
        const std::int64_t left = floored(at.x / wide - (is_odd(row) ? 0.5 : 0.0));
        for (std::int64_t column = left; column <= left + 1; ++column) {
            const Point middle = centre({row, column});
            const double far = std::hypot(at.x - middle.x, at.y - middle.y);
            if (far < least - kSame) {
                least = far;
                best = {row, column};
            }
        }
    }
    return best;
}

Point AreaGrid::centre(CellIndex cell) const {
    const auto row = static_cast<double>(cell.row);
    const auto column = static_cast<double>(cell.column);
    if (!hexagonal_) {
        return {(column + 0.5) * size_m_, (row + 0.5) * size_m_};
    }
    return {(column + (is_odd(cell.row) ? 0.5 : 0.0)) * size_m_ * std::numbers::sqrt3,
            1.5 * size_m_ * row};
}

std::vector<Point> AreaGrid::corners(CellIndex cell) const {
    // All corners lie on a lattice; the same place on it is the same number from every cell.
    std::vector<Point> ring;
    if (!hexagonal_) {
        for (const auto& [x, y] : {std::pair{0, 0}, {1, 0}, {1, 1}, {0, 1}}) {
            ring.push_back({static_cast<double>(cell.column + x) * size_m_,
                            static_cast<double>(cell.row + y) * size_m_});
        }
        return ring;
    }
    const double half_width = size_m_ * std::numbers::sqrt3 / 2.0;
    const std::int64_t column = 2 * cell.column + (is_odd(cell.row) ? 1 : 0);
    const std::int64_t row = 3 * cell.row;
    for (const auto& [x, y] : {std::pair{0, -2}, {1, -1}, {1, 1}, {0, 2}, {-1, 1}, {-1, -1}}) {
        ring.push_back({static_cast<double>(column + x) * half_width,
                        static_cast<double>(row + y) * size_m_ / 2.0});
    }
    return ring;
}

double AreaGrid::area_m2() const {
    return hexagonal_ ? 1.5 * std::numbers::sqrt3 * size_m_ * size_m_ : size_m_ * size_m_;
}

}  // namespace linewood
