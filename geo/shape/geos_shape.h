#pragma once

// Private to geo/shape: handles of GEOS, and the way between its geometries and plain points.

#include <memory>
#include <stdexcept>
#include <vector>

#include <geos_c.h>

#include "geo/shape/polygon.hpp"

namespace linewood {

/// GEOS could not do it: coordinates that are not finite, or no memory.
class ShapeError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// One thread's access to GEOS.
class Geos {
public:
    struct Free {
        GEOSContextHandle_t context;
        void operator()(GEOSGeometry* g) const { GEOSGeom_destroy_r(context, g); }
        void operator()(const GEOSPreparedGeometry* g) const {
            GEOSPreparedGeom_destroy_r(context, g);
        }
        void operator()(GEOSSTRtree* t) const { GEOSSTRtree_destroy_r(context, t); }
    };
    using Shape = std::unique_ptr<GEOSGeometry, Free>;
    using Prepared = std::unique_ptr<const GEOSPreparedGeometry, Free>;
    using Tree = std::unique_ptr<GEOSSTRtree, Free>;

    Geos();
    ~Geos();
    Geos(const Geos&) = delete;
    Geos& operator=(const Geos&) = delete;
    Geos(Geos&&) = delete;
    Geos& operator=(Geos&&) = delete;

    GEOSContextHandle_t context() const { return context_; }
    /// @throws ShapeError where `made` is null.
    Shape own(GEOSGeometry* made) const;

    Shape point(Point at) const;
    /// @pre two points or more
    Shape line(const std::vector<Point>& points) const;
    Shape area(const Polygons& polygons) const;
    /// A multi-geometry of `type` of the shapes given.
    Shape collection(int type, std::vector<Shape> shapes) const;

    /// The polygons in a geometry; its points and lines are left out.
    Polygons polygons(const GEOSGeometry& shape) const;

private:
    GEOSCoordSequence* sequence(const std::vector<Point>& points, bool ring) const;
    std::vector<Point> ring(const GEOSGeometry& linear_ring) const;

    GEOSContextHandle_t context_;
};

}  // namespace linewood
