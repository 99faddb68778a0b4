#include "geo/io/gpkg_blob.h"

#include "geo/io/bytes.h"

namespace linewood {
namespace {

constexpr unsigned char kLittleEndian = 1;
constexpr unsigned char kEnvelopeXy = 1U << 1U;
constexpr unsigned char kEmpty = 1U << 4U;

}  // namespace

void write_gpkg_blob(const OGRGeometry& geometry, std::int32_t srs_id, std::string& blob) {
    const bool empty = geometry.IsEmpty() != 0;
    const bool boxed = !empty && wkbFlatten(geometry.getGeometryType()) != wkbPoint;
    unsigned char flags = kLittleEndian;
    flags = static_cast<unsigned char>(flags | (boxed ? kEnvelopeXy : 0U) | (empty ? kEmpty : 0U));
    blob.assign("GP", 2);
    blob += '\0';
    blob += static_cast<char>(flags);
    append_number(blob, srs_id);
    if (boxed) {
        OGREnvelope box;
        geometry.getEnvelope(&box);
        for (const double v : {box.MinX, box.MaxX, box.MinY, box.MaxY}) {
            append_number(blob, v);
        }
    }
    const std::size_t head = blob.size();
    blob.resize(head + geometry.WkbSize());
    geometry.exportToWkb(
        wkbNDR,
        reinterpret_cast<unsigned char*>(blob.data() + head),  // NOLINT: OGR writes bytes
        wkbVariantIso);
}

}  // namespace linewood
