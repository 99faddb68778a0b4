#pragma once

// Private to geo/io: ways to read a layer that are quicker than OGR's features.

#include <memory>
#include <string>

#include "geo/io/batch_rows.h"
#include "geo/io/feature_reader.hpp"
#include "geo/io/gdal_session.h"

namespace linewood {

/// Reads a layer from its first row on, as long as every row is one that it reads as OGR does. OGR takes
/// over at the first that is not.
class RowStream {
public:
    RowStream() = default;
    virtual ~RowStream() = default;
    RowStream(const RowStream&) = delete;
    RowStream& operator=(const RowStream&) = delete;
    RowStream(RowStream&&) = delete;
    RowStream& operator=(RowStream&&) = delete;

    enum class State { rows, end, odd };

    /// The next rows into `slot`. `rows`: there may be more; `end`: these are the last (or none);
    /// `odd`: there are none, and the next row is for OGR.
    virtual State next(std::unique_ptr<BatchRows>& slot) = 0;
};

/// A CSV file of text columns parted by commas, well-formed (RFC 4180), without a geometry. Nothing where
/// it is anything else: other separators, types from a `.csvt`, a header OGR understands differently.
/// Rows with too few or too many cells, blank lines and stray quotes are odd.
std::unique_ptr<RowStream> open_csv_stream(GDALDataset& dataset,
                                           const std::string& file,
                                           const LayerSchema& schema,
                                           const ReadOptions& options);

/// A GeoPackage layer or table, read through the dataset's own SQLite connection. Nothing where a column
/// wanted is a time, a timestamp or a list. Values that are not stored as their column declares are odd.
std::unique_ptr<RowStream> open_gpkg_stream(GDALDataset& dataset,
                                            OGRLayer& layer,
                                            const LayerSchema& schema,
                                            const ReadOptions& options);

/// Is the column one of those to be read?
bool is_wanted(const ReadOptions& options, std::size_t column);

/// `GPKG`, `CSV`, ...; empty where there is none.
std::string driver_name(GDALDataset& dataset);

}  // namespace linewood
