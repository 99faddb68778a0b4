#include "geo/shape/outline.hpp"

#include <utility>

#include "geo/shape/geos_shape.h"

namespace linewood {
namespace {

/// Segments of a quarter circle; own choice: seen as round, few points.
constexpr int kQuarterSegments = 4;

/// The lines, joined end to end where two meet: a long line is buffered at once, many short ones are not.
Geos::Shape joined(const Geos& geos, const OutlineOf& what) {
    std::vector<Geos::Shape> lines;
    for (const auto& line : what.lines) {
        if (line.size() > 1) {
            lines.push_back(geos.line(line));
        }
    }
    const auto all = geos.collection(GEOS_MULTILINESTRING, std::move(lines));
    return geos.own(GEOSLineMerge_r(geos.context(), all.get()));
}

/// Everything within a distance: line by line, then as one. A buffer of all at once takes minutes where there are
/// ten thousand spans.
Geos::Shape buffered(const Geos& geos, const OutlineOf& what, double distance) {
    std::vector<Geos::Shape> parts;
    const auto add = [&](const GEOSGeometry* shape) {
        parts.push_back(geos.own(GEOSBuffer_r(geos.context(), shape, distance, kQuarterSegments)));
    };
    const auto lines = joined(geos, what);
    const int count = GEOSGetNumGeometries_r(geos.context(), lines.get());
    for (int i = 0; i < count; ++i) {
        add(GEOSGetGeometryN_r(geos.context(), lines.get(), i));
    }
    for (const auto& line : what.lines) {
        if (line.size() == 1) {
            add(geos.point(line.front()).get());
        }
    }
    for (const Point p : what.points) {
        add(geos.point(p).get());
    }
    const auto all = geos.collection(GEOS_GEOMETRYCOLLECTION, std::move(parts));
    return geos.own(GEOSUnaryUnion_r(geos.context(), all.get()));
}

}  // namespace

Polygons outline(const OutlineOf& what, double margin_m, double closing_m) {
    const Geos geos;
    auto around = buffered(geos, what, margin_m + closing_m);
    if (closing_m > 0.0) {
        around = geos.own(GEOSBuffer_r(geos.context(), around.get(), -closing_m, kQuarterSegments));
    }
    return geos.polygons(*around);
}

Polygons cut_away(const Polygons& area, const std::vector<Polygons>& others) {
    const Geos geos;
    auto left = geos.area(area);
    for (const Polygons& other : others) {
        const auto cut = geos.area(other);
        left = geos.own(GEOSDifference_r(geos.context(), left.get(), cut.get()));
    }
    return geos.polygons(*left);
}

double area_of(const Polygons& area) {
    const Geos geos;
    double size = 0.0;
    GEOSArea_r(geos.context(), geos.area(area).get(), &size);
    return size;
}

Polygons made_valid(const Polygons& area, bool& was_valid) {
    const Geos geos;
    const auto shape = geos.area(area);
    was_valid = GEOSisValid_r(geos.context(), shape.get()) == 1;
    return was_valid ? area
                     : geos.polygons(*geos.own(GEOSMakeValid_r(geos.context(), shape.get())));
}

}  // namespace linewood
