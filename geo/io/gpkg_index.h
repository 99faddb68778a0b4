#pragma once

// Private to geo/io: the spatial index of a GeoPackage layer, built at once after its rows.

#include <string>
#include <vector>

#include <ogrsf_frmts.h>

#include "geo/io/rtree_pack.hpp"

namespace linewood {

/// Creates `rtree_<table>_<column>` with its content, its extension row and the standard's maintenance
/// triggers (GeoPackage 1.2/1.3, annex F.3), inside the transaction under way. `boxes` are used up.
/// @return false where SQL failed; GDAL's messages then say why.
bool build_gpkg_index(GDALDataset& dataset,
                      const std::string& table,
                      const std::string& fid,
                      const std::string& geometry,
                      std::vector<IndexedBox>& boxes);

/// `gpkg_extensions` as the standard's annex defines it; GDAL creates it only when it first needs it.
bool create_extensions_table(GDALDataset& dataset);

/// Runs a statement; false where it failed.
bool run_sql(GDALDataset& dataset, const std::string& sql);
/// The first column of the first row; empty where there is none.
std::string ask_sql(GDALDataset& dataset, const std::string& sql);

/// `"name"` and `'text'` with their quotes doubled.
std::string quoted_name(const std::string& name);
std::string quoted_text(const std::string& text);

}  // namespace linewood
