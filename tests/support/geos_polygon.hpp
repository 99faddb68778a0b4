#pragma once

#include <cstdarg>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include <geos_c.h>

namespace linewood::test {

struct XY {
    double x;
    double y;
};

/// One GEOS context and the few overlay operations the slow checks need. Errors throw.
class Geos {
public:
    struct Destroy {
        GEOSContextHandle_t context;
        void operator()(GEOSGeometry* g) const { GEOSGeom_destroy_r(context, g); }
    };
    using Shape = std::unique_ptr<GEOSGeometry, Destroy>;

    Geos() : context_{GEOS_init_r()} {}
    ~Geos() { GEOS_finish_r(context_); }
    Geos(const Geos&) = delete;
    Geos(Geos&&) = delete;
    Geos& operator=(const Geos&) = delete;
    Geos& operator=(Geos&&) = delete;

    /// @param ring open: the last point is not the first
    Shape polygon(const std::vector<XY>& ring) const {
        const auto size = static_cast<unsigned>(ring.size() + 1);
        GEOSCoordSequence* line = GEOSCoordSeq_create_r(context_, size, 2);
        for (unsigned i = 0; i < size; ++i) {
            const XY& p = ring[i % ring.size()];
            GEOSCoordSeq_setXY_r(context_, line, i, p.x, p.y);
        }
        return own(GEOSGeom_createPolygon_r(
            context_, GEOSGeom_createLinearRing_r(context_, line), nullptr, 0));
    }

    Shape difference(const Shape& a, const Shape& b) const {
        return own(GEOSDifference_r(context_, a.get(), b.get()));
    }
    Shape intersection(const Shape& a, const Shape& b) const {
        return own(GEOSIntersection_r(context_, a.get(), b.get()));
    }
    Shape unite(const Shape& a, const Shape& b) const {
        return own(GEOSUnion_r(context_, a.get(), b.get()));
    }
    Shape buffer(const Shape& a, double width) const {
        return own(GEOSBuffer_r(context_, a.get(), width, 4));
    }
    double area(const Shape& a) const {
        double v = 0.0;
        check(GEOSArea_r(context_, a.get(), &v) == 1);
        return v;
    }

    /// The polygons in a shape.
    std::vector<Shape> parts(const Shape& a) const {
        std::vector<Shape> all;
        for (int i = 0; i < GEOSGetNumGeometries_r(context_, a.get()); ++i) {
            const GEOSGeometry* part = GEOSGetGeometryN_r(context_, a.get(), i);
            if (GEOSGeomTypeId_r(context_, part) == GEOS_POLYGON) {
                all.push_back(own(GEOSGeom_clone_r(context_, part)));
            }
        }
        return all;
    }

    /// The outer ring of a polygon, then its holes.
    std::vector<std::vector<XY>> rings(const Shape& polygon) const {
        std::vector<std::vector<XY>> all;
        all.push_back(points(GEOSGetExteriorRing_r(context_, polygon.get())));
        for (int i = 0; i < GEOSGetNumInteriorRings_r(context_, polygon.get()); ++i) {
            all.push_back(points(GEOSGetInteriorRingN_r(context_, polygon.get(), i)));
        }
        return all;
    }

private:
    Shape own(GEOSGeometry* g) const {
        check(g != nullptr);
        return {g, Destroy{context_}};
    }

    static void check(bool ok) {
        if (!ok) {
            throw std::runtime_error("GEOS could not do it");
        }
    }

    std::vector<XY> points(const GEOSGeometry* ring) const {
        const GEOSCoordSequence* line = GEOSGeom_getCoordSeq_r(context_, ring);
        unsigned size = 0;
        check(GEOSCoordSeq_getSize_r(context_, line, &size) == 1);
        std::vector<XY> all(size);
        for (unsigned i = 0; i < size; ++i) {
            check(GEOSCoordSeq_getXY_r(context_, line, i, &all[i].x, &all[i].y) == 1);
        }
        return all;
    }

    GEOSContextHandle_t context_;
};

}  // namespace linewood::test
