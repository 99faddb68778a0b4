#pragma once

// Private to geo/io: the spatial index of a GeoPackage layer, built at once after its rows.

#include <string>
#include <vector>

#include "geo/io/rtree_pack.hpp"
#include "geo/io/sqlite_file.h"

namespace linewood {

/// Creates `rtree_TABLE_COLUMN` with its content, its extension row and the standard's maintenance
/// triggers (GeoPackage 1.2/1.3, annex F.3), inside the transaction under way. `boxes` are used up.
/// @throws DataError
void build_gpkg_index(SqliteFile& file,
                      const std::string& table,
                      const std::string& fid,
                      const std::string& geometry,
                      std::vector<IndexedBox>& boxes);

/// `gpkg_extensions` as the standard's annex defines it; GDAL creates it only when it first needs it.
void create_extensions_table(SqliteFile& file);

}  // namespace linewood
