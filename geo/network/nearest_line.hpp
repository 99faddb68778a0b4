#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "assess/units/angle.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/pole_grid.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// For every pole the line passing nearest to it, within a distance: its direction there. For masts
/// beside a line. Where a bend is nearest, the axis of the bend. Equally near lines: that of the
/// lowest row. 24 bytes a pole.
class NearestLine {
public:
    /// The grid and the poles must outlive it.
    NearestLine(const Ground& ground,
                std::span<const Point> poles,
                const PoleGrid& grid,
                double within_m);

    /// Takes one part of a line; consecutive equal points are one. @pre all are places.
    void pass(std::span<const Point> part, std::uint32_t row);

    /// The direction of the nearest line.
    struct Passing {
        Axis axis;
        double open_degrees = 0.0;  ///< half the turn of the bend, where a bend is nearest
    };
    /// Of the line nearest to this pole; nothing where none came near.
    std::optional<Passing> at(std::size_t pole) const;

private:
    struct Near {
        double distance_m = std::numeric_limits<double>::infinity();
        double axis_degrees = 0.0;
        std::uint32_t row = kNone;
        float open_degrees = 0.0F;
    };
    std::optional<Passing> passing(std::size_t segment, double fraction) const;

    Ground ground_;
    std::span<const Point> poles_;
    const PoleGrid& grid_;
    double within_m_;
    std::vector<Near> near_;
    std::vector<Point> path_;
    std::vector<PoleGrid::Beside> beside_;
};

}  // namespace linewood
