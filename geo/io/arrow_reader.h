#pragma once

// Private to geo/io: reading a layer by columns through OGR's Arrow stream.

#include <memory>
#include <string>
#include <vector>

#include <ogr_recordbatch.h>

#include "geo/io/batch_rows.h"
#include "geo/io/feature_reader.hpp"
#include "geo/io/gdal_session.h"

namespace linewood {

/// One column of a batch: how its bytes are to be read.
struct ArrowColumn {
    enum class Kind : std::uint8_t {
        absent,
        int32,
        int64,
        real,
        text,
        large_text,
        binary,
        large_binary,
        date
    };
    Kind kind = Kind::absent;
    std::int64_t child = -1;
};

/// What a stream's batches look like; shared by all of them.
struct ArrowLayout {
    std::int64_t fid_child = -1;
    std::vector<ArrowColumn> columns;  ///< one for each field of the layer's schema
    ArrowColumn geometry;
};

/// Rows of one Arrow batch, which it owns. Outlives its stream and dataset.
class ArrowRows final : public BatchRows {
public:
    explicit ArrowRows(std::shared_ptr<const ArrowLayout> layout) : layout_{std::move(layout)} {}
    ~ArrowRows() override { release(); }
    ArrowRows(const ArrowRows&) = delete;
    ArrowRows& operator=(const ArrowRows&) = delete;
    ArrowRows(ArrowRows&&) = delete;
    ArrowRows& operator=(ArrowRows&&) = delete;

    /// For the stream to fill, emptied.
    ArrowArray& refill();

    std::size_t size() const override { return static_cast<std::size_t>(array_.length); }
    std::int64_t fid(std::size_t row) const override;
    bool is_null(std::size_t row, std::size_t column) const override;
    void get(std::size_t row, std::size_t column, RawValue& value) const override;
    StoredGeometry geometry(std::size_t row) const override;

    /// Is there a 1970-01-01? GDAL's stream gives that for what is no date, too.
    bool has_doubtful_day() const;

private:
    void release();

    std::shared_ptr<const ArrowLayout> layout_;
    ArrowArray array_{};
};

/// A layer's stream, or nothing where reading it by columns would not give the same values as
/// feature by feature:
/// - drivers other than GPKG and FlatGeobuf have no stream of their own;
/// - a GeoPackage layer of 126 and more attributes gives empty batches for ever (GDAL 3.6.2);
/// - booleans come out wrong before GDAL 3.8.3 (its issue 8998);
/// - a DateTime loses its offset; 16-bit and 32-bit columns lose what does not fit them, though SQLite and
///   the feature interface keep it;
/// - the stream's own thread would open an IMMUTABLE database in the ordinary way and leave files beside it.
class ArrowReader {
public:
    /// @pre the layer's unwanted columns are ignored already.
    static std::unique_ptr<ArrowReader> open(GDALDataset& dataset,
                                             OGRLayer& layer,
                                             const LayerSchema& schema,
                                             const ReadOptions& options);
    ~ArrowReader();
    ArrowReader(const ArrowReader&) = delete;
    ArrowReader& operator=(const ArrowReader&) = delete;
    ArrowReader(ArrowReader&&) = delete;
    ArrowReader& operator=(ArrowReader&&) = delete;

    /// The next rows into `slot`; false at the end or where it fails: then code() is not 0, and GDAL's
    /// words are with the caller's ErrorCollector, in stray_failures(), or nowhere.
    bool next(std::unique_ptr<BatchRows>& slot);
    /// An errno value; 0 = no failure.
    int code() const { return code_; }

private:
    ArrowReader() = default;

    ArrowArrayStream stream_{};
    int code_ = 0;
    std::shared_ptr<const ArrowLayout> layout_;
};

}  // namespace linewood
