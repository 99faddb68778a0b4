#include "geo/shape/outline.hpp"

#include "geo/shape/geos_shape.h"

namespace linewood {
namespace {

/// Segments of a quarter circle; own choice: seen as round, few points.
constexpr int kQuarterSegments = 4;

}  // namespace

Polygons outline(const OutlineOf& what, double margin_m, double closing_m) {
    const Geos geos;
    std::vector<Geos::Shape> shapes;
    for (const auto& line : what.lines) {
        if (line.size() == 1) {
            shapes.push_back(geos.point(line.front()));
        } else if (line.size() > 1) {
            shapes.push_back(geos.line(line));
        }
    }
    for (const Point p : what.points) {
        shapes.push_back(geos.point(p));
    }
    const auto all = geos.collection(GEOS_GEOMETRYCOLLECTION, std::move(shapes));
    auto around =
        geos.own(GEOSBuffer_r(geos.context(), all.get(), margin_m + closing_m, kQuarterSegments));
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
