#pragma once

// Private to geo/io: what GDAL leaves out of a row without a word, or with one that names no row.

#include <memory>
#include <string>

#include "geo/io/batch_rows.h"
#include "geo/io/feature_reader.hpp"
#include "geo/io/gdal_session.h"

namespace linewood {

/// Looks again at rows in the file itself, where those read leave a doubt.
class RowCheck {
public:
    RowCheck() = default;
    virtual ~RowCheck() = default;
    RowCheck(const RowCheck&) = delete;
    RowCheck& operator=(const RowCheck&) = delete;
    RowCheck(RowCheck&&) = delete;
    RowCheck& operator=(RowCheck&&) = delete;

    /// Is there a text among those of these rows, as they are stored, that a reader of rows ends at a byte 0?
    virtual bool cuts_text(const BatchRows& /*rows*/) { return false; }
    /// Adds to `rows.damage` what was lost of them. @param first_row of the layer's rows.
    virtual void check(BatchRows& rows, std::int64_t first_row) = 0;
};

/// GeoPackage and SQLite: bytes in the geometry column that are no geometry, of which the row comes without one, and texts
/// that OGR's features give up to a byte 0 (they are put right in the rows).
/// CSV: cells of coordinate columns that are no numbers.
/// These two, and formats that write values as text (Shapefile, CSV with types, GML, KML, MIF): a value that is none of
/// its column's type stays what is written, where OGR's features make another of it.
/// Spreadsheets: the places themselves, and cells that are none.
/// Nothing for other formats, or where a layer has nothing of the kind.
/// @param path what is opened for the layer's file.
std::unique_ptr<RowCheck> make_row_check(GDALDataset& dataset,
                                         OGRLayer& layer,
                                         const LayerSchema& schema,
                                         const ReadOptions& options,
                                         const std::string& path);

}  // namespace linewood
