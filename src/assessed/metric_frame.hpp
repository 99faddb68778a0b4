#pragma once

#include <optional>
#include <span>
#include <string>

#include "geo/crs/layer_crs.hpp"
#include "src/pipeline/ground_frame.hpp"

namespace linewood {

/// A plane in metres for the layers of a dataset: what is counted by distance or by area is counted in
/// it, never in degrees.
///
/// It is Lambert's azimuthal equal-area projection (EPSG method 9820) about the middle of the poles, rounded to
/// whole 5 degrees, so that a pole more or less does not move it: distances are right to 1 in 1000 within
/// 550 km of that place, areas everywhere. Or a projected system that the user names. Layers without a
/// coordinate system are a plane already.
class MetricFrame {
public:
    /// @param ground where the layers meet; outlives this.
    /// @param poles on the ground; those with NaN count for nothing.
    /// @param crs `AUTHORITY:CODE` or WKT; empty = chosen.
    /// @throws JobError where `crs` is not understood, or is not in metres.
    static MetricFrame around(const GroundFrame& ground,
                              std::span<const Point> poles,
                              double plane_metres_per_unit,
                              const std::string& crs);

    /// Ground to metres, in place; NaN where there is no place.
    void from_ground(std::span<Point> points) const;
    /// Metres to the coordinates of the poles layer, for writing.
    Point to_layer(Point metric) const;
    /// As said to people: `Lambert azimuthal equal area about 40 N 95 W`, `EPSG:32610`, `plane`.
    const std::string& name() const { return name_; }

private:
    MetricFrame(const GroundFrame& ground, double metres_per_unit)
        : ground_{&ground}, metres_per_unit_{metres_per_unit} {}

    const GroundFrame* ground_;
    double metres_per_unit_;
    std::optional<LayerCrs> crs_;  ///< none: a plane
    std::string name_ = "plane";
};

}  // namespace linewood
