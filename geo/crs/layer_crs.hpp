#pragma once

#include <memory>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

#include "assess/units/angle.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// A coordinate system that cannot be used; the message says why and what to do.
class CrsError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// One that counts from the Earth's centre: its x and y alone are no map.
class GeocentricCrs : public CrsError {
public:
    using CrsError::CrsError;
};

/// A layer's coordinate system: from the layer's coordinates to the ground (longitude and latitude
/// on the system's own datum) and back, and how its grid north lies to true north.
///
/// Layer coordinates are x, y as GIS software holds them: x east or longitude, y north or latitude,
/// also where the authority writes the other order (EPSG:4326, EPSG:3035, EPSG:2393). A system whose
/// axes are counted west or south (EPSG:2053) keeps its own counting in x and y; one that has southing
/// before westing (EPSG:5513, EPSG:2065) keeps that order too: x southing, y westing.
///
/// Threads: movable, not copyable. Each object has a PROJ context of its own, so objects may be used
/// side by side in threads, but one object only by one thread at a time, const functions included.
class LayerCrs {
public:
    /// Reads WKT of any kind, PROJJSON or `AUTHORITY:CODE`. Of a compound or 3D system the
    /// horizontal part is used; a bound system (with a shift to WGS 84) counts as the system it
    /// wraps, its shift being used by to_wgs84() only.
    /// An engineering (local) system is a plane in the unit that it states, as none() is: known() is false,
    /// name() is its own.
    /// @throws CrsError where the text is not understood, or the system has no geographic base and is no
    ///         plane (vertical ones; local ones in degrees); GeocentricCrs for geocentric ones.
    static LayerCrs from_wkt(std::string_view wkt);

    /// A layer without a coordinate system: a plane whose y is taken as true north.
    /// @pre metres_per_unit > 0.
    static LayerCrs none(double metres_per_unit);

    LayerCrs(LayerCrs&& other) noexcept;
    LayerCrs& operator=(LayerCrs&& other) noexcept;
    LayerCrs(const LayerCrs& other) = delete;
    LayerCrs& operator=(const LayerCrs& other) = delete;
    ~LayerCrs();

    /// Has it a place on the Earth? False for none() and for local systems.
    bool known() const;
    /// An engineering system: a plane with a name and a unit of its own.
    bool local() const;
    /// The layer's coordinates are longitude and latitude already (in whatever angular unit).
    bool geographic() const;
    /// `EPSG:26915` where the system carries a code or is recognised as one; else its name; `none`
    /// for none().
    const std::string& name() const;

    /// The ellipsoid of the system, or the plane.
    Ground ground() const;

    /// Layer coordinates to degrees of longitude (from Greenwich) and latitude on the system's own
    /// datum and ellipsoid: no datum shift. Unchanged for none(). In place, without allocation; about
    /// 0.15 us a point for UTM, a copy's cost for geographic layers.
    /// A point that is not finite, or outside what the projection can hold, or of a latitude beyond
    /// 90 or a longitude beyond 360 degrees, becomes NaN in both numbers.
    void to_ground(std::span<Point> points) const;
    Point to_ground(Point at) const;

    /// The reverse of to_ground(); inside the projection's area of use the round trip closes within
    /// 1e-6 m, for equal-area projections within 1 mm. NaN outside the projection. A conic projection
    /// holds every point of its plane: an absurd coordinate gives a place far away, not NaN.
    Point from_ground(Point lonlat) const;

    /// Grid north minus true north at a place: `true azimuth = grid azimuth + convergence`. Positive
    /// where grid north lies east of true north (in the northern hemisphere, east of the central
    /// meridian of a transverse Mercator). Grid north is the direction of growing northing, or
    /// of falling southing, whichever of x and y that is. 0 for geographic layers and for none(). By differences over 22 m:
    /// right to 1e-7 degrees. NaN outside the projection.
    Angle convergence(Point lonlat) const;

    /// Layer coordinates to degrees on WGS 84 (EPSG:4326), by PROJ's best operation for each place
    /// without network access; where a shift grid is not installed, the next best, metres off.
    /// In place; points that cannot be carried become NaN. @pre known(). The first call sets the
    /// operation up (some milliseconds).
    void to_wgs84(std::span<Point> points) const;

private:
    struct Inside;
    explicit LayerCrs(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

}  // namespace linewood
