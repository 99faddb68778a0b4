#pragma once

// Private to geo/io: what is in a GeoJSON file and not in what GDAL makes of it.

#include <cstdint>
#include <string>
#include <vector>

#include "geo/io/csv_scan.h"
#include "geo/io/cut_text.h"

namespace linewood {

struct GeoJsonScan {
    /// Geometries that are none, of which the feature comes without one or without a part, by row.
    std::vector<PlacedDamage> rows;
    /// What stands in place of features or of their properties, the first of them; each names its line.
    std::vector<RowDamage> lost;
    std::vector<CutText> cut_texts;  ///< by row
    std::int64_t features = 0;       ///< what GDAL should make of the file
    std::int64_t others = 0;         ///< things in place of features
};

/// Reads a file once, besides GDAL. One token of a collection is in memory, of a sequence one text.
/// @param sequence texts one a line, or each behind a record separator.
GeoJsonScan scan_geojson(const std::string& file, bool sequence);

}  // namespace linewood
