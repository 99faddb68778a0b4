#include "geo/io/shapefile_size.h"

namespace linewood {
namespace {

struct Parts {
    std::uint64_t parts = 0;
    std::uint64_t points = 0;
};

void count_parts(const OGRGeometry& geometry, Parts& to) {
    switch (wkbFlatten(geometry.getGeometryType())) {
        case wkbPoint:
            ++to.points;
            break;
        case wkbLineString:
            ++to.parts;
            to.points += static_cast<std::uint64_t>(geometry.toLineString()->getNumPoints());
            break;
        case wkbPolygon:
            for (const OGRLinearRing* ring : *geometry.toPolygon()) {
                ++to.parts;
                to.points += static_cast<std::uint64_t>(ring->getNumPoints()) + 1;  // closed
            }
            break;
        default:
            if (OGR_GT_IsSubClassOf(geometry.getGeometryType(), wkbGeometryCollection) != 0) {
                for (const OGRGeometry* member : *geometry.toGeometryCollection()) {
                    count_parts(*member, to);
                }
            }
            break;
    }
}

}  // namespace

std::uint64_t shp_row_bytes(const OGRGeometry* geometry) {
    constexpr std::uint64_t kHead = 8;
    constexpr std::uint64_t kType = 4;
    if (geometry == nullptr) {
        return kHead + kType;
    }
    Parts n;
    count_parts(*geometry, n);
    // With heights the measures may be written too.
    const bool z = geometry->Is3D() != 0;
    const std::uint64_t more = (z ? 2U : 0U) + (!z && geometry->IsMeasured() != 0 ? 1U : 0U);
    if (wkbFlatten(geometry->getGeometryType()) == wkbPoint) {
        return kHead + kType + 16 + 8 * more;
    }
    return kHead + kType + 32 + 8 + 4 * n.parts + 16 * n.points + more * (16 + 8 * n.points);
}

std::uint64_t dbf_row_bytes(const OGRFeatureDefn& columns) {
    std::uint64_t bytes = 1;  // the mark of deleted rows
    for (int i = 0; i < columns.GetFieldCount(); ++i) {
        bytes += static_cast<std::uint64_t>(columns.GetFieldDefn(i)->GetWidth());
    }
    return bytes;
}

std::string ShapefileSize::add(const OGRGeometry* geometry, const OGRFeatureDefn& columns) {
    shp_ += shp_row_bytes(geometry);
    ++rows_;
    const auto fields = static_cast<std::uint64_t>(columns.GetFieldCount());
    const std::uint64_t head = 32 + 32 * fields + 2;  // and the byte at the end of the file
    return shp_ > most_ ? ".shp" : head + rows_ * dbf_row_bytes(columns) > most_ ? ".dbf" : "";
}

}  // namespace linewood
