#include <cmath>

#include "geo/io/batch_rows.h"

// Areas out of a stored geometry, through OGR: there are few of them.

namespace linewood {
namespace {

using AreaRead = Read<Polygons, ShapeStatus>;

std::vector<Point> ring_points(const OGRLinearRing& ring) {
    std::vector<Point> points;
    for (int i = 0; i < ring.getNumPoints(); ++i) {
        points.push_back({ring.getX(i), ring.getY(i)});
    }
    if (points.size() > 1 && points.front() == points.back()) {
        points.pop_back();
    }
    return points;
}

/// Rings of under three points enclose nothing; without an outer one there is no polygon.
void add_polygon(const OGRPolygon& polygon, Polygons& out) {
    PolygonRings rings;
    for (const OGRLinearRing* ring : polygon) {
        std::vector<Point> points = ring_points(*ring);
        if (points.size() < 3) {
            if (rings.empty()) {
                return;
            }
            continue;
        }
        rings.push_back(std::move(points));
    }
    if (!rings.empty()) {
        out.push_back(std::move(rings));
    }
}

/// False where there is something else in it than polygons.
bool add_polygons(const OGRGeometry& geometry, Polygons& out) {
    const auto type = geometry.getGeometryType();
    if (wkbFlatten(type) == wkbPolygon) {
        add_polygon(*geometry.toPolygon(), out);
        return true;
    }
    if (OGR_GT_IsSubClassOf(type, wkbGeometryCollection) == 0) {
        return false;
    }
    const OGRGeometryCollection& many = *geometry.toGeometryCollection();
    bool only_areas = true;
    for (int i = 0; i < many.getNumGeometries() && only_areas; ++i) {
        only_areas = add_polygons(*many.getGeometryRef(i), out);
    }
    return only_areas;
}

bool all_finite(const Polygons& area) {
    for (const PolygonRings& rings : area) {
        for (const auto& ring : rings) {
            for (const Point p : ring) {
                if (!std::isfinite(p.x) || !std::isfinite(p.y)) {
                    return false;
                }
            }
        }
    }
    return true;
}

}  // namespace

Read<Polygons, ShapeStatus> polygons_of(const StoredGeometry& stored) {
    const OGRGeometryUniquePtr geometry = make_geometry(stored);
    if (!geometry) {
        return {};
    }
    if (geometry->IsEmpty() != 0) {
        return {std::nullopt, ShapeStatus::empty};
    }
    const OGRGeometryUniquePtr straight{
        geometry->getLinearGeometry(1.0)};  // degrees of arc a chord
    Polygons area;
    if (!straight || !add_polygons(*straight, area)) {
        return {std::nullopt, ShapeStatus::other_type};
    }
    if (!all_finite(area)) {
        return {std::nullopt, ShapeStatus::not_finite};
    }
    return area.empty() ? AreaRead{std::nullopt, ShapeStatus::empty}
                        : AreaRead{std::move(area), ShapeStatus::ok};
}

}  // namespace linewood
