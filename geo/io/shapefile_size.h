#pragma once

// Private to geo/io: how large the files of a Shapefile get.

#include <cstdint>
#include <string>

#include <ogrsf_frmts.h>

namespace linewood {

/// The most bytes that each file of a Shapefile may have: its programs count them in 31 bits, and DBF readers
/// likewise. (ESRI Shapefile Technical Description, July 1998: lengths and offsets are signed, of 32 bits;
/// GDAL's driver page: 2 GB for .shp and .dbf.)
inline constexpr std::uint64_t kMostShapefileBytes = (std::uint64_t{1} << 31) - 1;

/// Bytes of a row in the .shp at most: head and content. Null shapes are null pointers.
std::uint64_t shp_row_bytes(const OGRGeometry* geometry);

/// Bytes of a row in the .dbf with the columns as wide as they are now.
std::uint64_t dbf_row_bytes(const OGRFeatureDefn& columns);

/// Counts rows before they are written.
class ShapefileSize {
public:
    explicit ShapefileSize(std::uint64_t most = kMostShapefileBytes) : most_{most} {}

    /// Empty where the row still has room, else the kind of the file that would get too large: `.shp`, `.dbf`.
    std::string add(const OGRGeometry* geometry, const OGRFeatureDefn& columns);

private:
    std::uint64_t most_;
    std::uint64_t shp_ = 100;  // its head
    std::uint64_t rows_ = 0;
};

}  // namespace linewood
