#pragma once

// Private to geo/io: geometries as a GeoPackage stores them.

#include <cstdint>
#include <string>

#include <ogr_geometry.h>

namespace linewood {

/// GeoPackage geometry blob (GeoPackage 1.3, clause 2.1.3) into `blob`, little-endian: header, the xy
/// envelope for all but points, ISO well-known binary. An empty geometry has its flag set and no envelope.
void write_gpkg_blob(const OGRGeometry& geometry, std::int32_t srs_id, std::string& blob);

}  // namespace linewood
