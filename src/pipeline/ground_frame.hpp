#pragma once

#include <span>
#include <string>

#include "assess/record/finding.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/layer_crs.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// The common ground of a run: where the coordinates of the poles and of the spans meet.
///
/// Both layers in one coordinate system: longitude and latitude on its own datum. In two: on WGS 84.
/// One of them without: the other's is taken, with a finding. Neither, or one that has no place on
/// the Earth: a plane whose y is true north, with a finding; a local system is a plane in its own unit.
/// One that counts from the Earth's centre is refused.
class GroundFrame {
public:
    /// @param spans_wkt null where there are no spans.
    /// @param metres_per_unit of a plane that states no unit itself.
    /// @throws GeocentricCrs
    GroundFrame(const std::string& poles_wkt,
                const std::string* spans_wkt,
                double metres_per_unit,
                Findings& findings);

    Ground ground() const { return ground_; }
    /// In place; NaN where a point has no place: not finite, a latitude beyond 90 or a longitude beyond 360 degrees, a
    /// coordinate that the projection cannot hold, or in a plane one further from its origin than the Earth is
    /// round.
    void poles_to_ground(std::span<Point> points) const;
    void spans_to_ground(std::span<Point> points) const;
    /// Back to the coordinates of the poles layer, for showing a place.
    Point to_poles_layer(Point on_ground) const { return poles_.from_ground(on_ground); }
    /// Grid north minus true north of the poles layer.
    Angle convergence(Point on_ground) const { return poles_.convergence(on_ground); }
    /// The poles layer has longitudes and latitudes: there is no grid that an azimuth could be of.
    bool poles_lack_grid() const { return poles_.known() && poles_.geographic(); }
    /// For cutting span paths in their own layer's coordinates: the ground where those are longitudes
    /// and latitudes, which wrap; else a plane.
    Ground spans_path_ground() const {
        return spans_.known() && spans_.geographic() ? ground_ : Ground::planar(1.0);
    }
    /// Straight lines of the spans layer are straight on the ground.
    bool spans_keep_straight() const { return !spans_.known() || spans_.geographic(); }
    /// The ground has longitudes and latitudes.
    bool on_earth() const { return !ground_.is_planar(); }

private:
    void take_one_plane(const std::string& poles_wkt,
                        const std::string* spans_wkt,
                        Findings& findings);
    void to_ground(const LayerCrs& crs, std::span<Point> points) const;

    LayerCrs poles_;
    LayerCrs spans_;
    double plane_limit_ = 0.0;  // in the plane's own unit
    bool by_wgs84_ = false;
    Ground ground_;
};

}  // namespace linewood
