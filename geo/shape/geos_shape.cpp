#include "geo/shape/geos_shape.h"

#include <cstddef>
#include <utility>

namespace linewood {

Geos::Geos() : context_{GEOS_init_r()} {}

Geos::~Geos() { GEOS_finish_r(context_); }

Geos::Shape Geos::own(GEOSGeometry* made) const {
    if (made == nullptr) {
        throw ShapeError{"a shape could not be worked out; its coordinates may not be finite"};
    }
    return {made, Free{context_}};
}

GEOSCoordSequence* Geos::sequence(const std::vector<Point>& points, bool ring) const {
    const std::size_t count = points.size() + (ring ? 1 : 0);
    GEOSCoordSequence* made = GEOSCoordSeq_create_r(context_, static_cast<unsigned>(count), 2);
    if (made == nullptr) {
        throw ShapeError{"no memory for a shape"};
    }
    for (std::size_t i = 0; i < count; ++i) {
        const Point p = points[i % points.size()];
        GEOSCoordSeq_setXY_r(context_, made, static_cast<unsigned>(i), p.x, p.y);
    }
    return made;
}

Geos::Shape Geos::point(Point at) const {
    return own(GEOSGeom_createPointFromXY_r(context_, at.x, at.y));
}

Geos::Shape Geos::line(const std::vector<Point>& points) const {
    return own(GEOSGeom_createLineString_r(context_, sequence(points, false)));
}

Geos::Shape Geos::area(const Polygons& polygons) const {
    std::vector<Shape> parts;
    for (const PolygonRings& rings : polygons) {
        std::vector<Shape> made;
        for (const auto& points : rings) {
            made.push_back(own(GEOSGeom_createLinearRing_r(context_, sequence(points, true))));
        }
        std::vector<GEOSGeometry*> holes;
        for (std::size_t i = 1; i < made.size(); ++i) {
            holes.push_back(made[i].release());
        }
        parts.push_back(own(GEOSGeom_createPolygon_r(
            context_, made.front().release(), holes.data(), static_cast<unsigned>(holes.size()))));
    }
    return collection(GEOS_MULTIPOLYGON, std::move(parts));
}

Geos::Shape Geos::collection(int type, std::vector<Shape> shapes) const {
    std::vector<GEOSGeometry*> parts;
    parts.reserve(shapes.size());
    for (Shape& s : shapes) {
        parts.push_back(s.release());
    }
    return own(GEOSGeom_createCollection_r(
        context_, type, parts.data(), static_cast<unsigned>(parts.size())));
}

std::vector<Point> Geos::ring(const GEOSGeometry& linear_ring) const {
    const GEOSCoordSequence* coordinates = GEOSGeom_getCoordSeq_r(context_, &linear_ring);
    unsigned count = 0;
    GEOSCoordSeq_getSize_r(context_, coordinates, &count);
    std::vector<Point> points(count == 0 ? 0 : count - 1);
    for (unsigned i = 0; i < points.size(); ++i) {
        GEOSCoordSeq_getXY_r(context_, coordinates, i, &points[i].x, &points[i].y);
    }
    return points;
}

Polygons Geos::polygons(const GEOSGeometry& shape) const {
    Polygons out;
    const int type = GEOSGeomTypeId_r(context_, &shape);
    if (type == GEOS_POLYGON) {
        if (GEOSisEmpty_r(context_, &shape) == 1) {
            return out;
        }
        PolygonRings rings{ring(*GEOSGetExteriorRing_r(context_, &shape))};
        const int holes = GEOSGetNumInteriorRings_r(context_, &shape);
        for (int i = 0; i < holes; ++i) {
            rings.push_back(ring(*GEOSGetInteriorRingN_r(context_, &shape, i)));
        }
        out.push_back(std::move(rings));
    } else if (type == GEOS_MULTIPOLYGON || type == GEOS_GEOMETRYCOLLECTION) {
        const int parts = GEOSGetNumGeometries_r(context_, &shape);
        for (int i = 0; i < parts; ++i) {
            for (PolygonRings& rings : polygons(*GEOSGetGeometryN_r(context_, &shape, i))) {
                out.push_back(std::move(rings));
            }
        }
    }
    return out;
}

}  // namespace linewood
