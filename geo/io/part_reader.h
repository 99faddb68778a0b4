#pragma once

// Private to geo/io: reading one file of a layer.

#include <cstdint>
#include <memory>
#include <vector>

#include "geo/io/arrow_reader.h"
#include "geo/io/feature_reader.hpp"
#include "geo/io/row_check.h"
#include "geo/io/row_stream.h"
#include "geo/io/source_pool.h"

namespace linewood {

/// Reads the rows of one entry of the pool.
class PartReader {
public:
    PartReader(std::shared_ptr<SourcePool> pool, std::size_t entry, ReadOptions options);
    ~PartReader();
    PartReader(const PartReader&) = delete;
    PartReader& operator=(const PartReader&) = delete;
    PartReader(PartReader&&) = delete;
    PartReader& operator=(PartReader&&) = delete;

    /// The next rows into `slot`, with their damage; false after the last. @throws DataError
    bool next(std::unique_ptr<BatchRows>& slot);

    const LayerSchema& schema() const { return schema_; }
    std::int64_t rows_read() const { return rows_read_; }
    /// After the last row.
    std::vector<RowDamage>& layer_damage() { return layer_damage_; }

private:
    void filter();
    void open_stream();
    void read_stream(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors);
    void read_arrow(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors);
    bool can_be_ignored(std::size_t column) const;
    void ignore_unwanted();
    void fill(std::unique_ptr<BatchRows>& slot, ErrorCollector& errors);
    void go_on_by_features();
    void explain_by_features();
    void add_damage(BatchRows& rows) const;
    bool take_as_damage(const ErrorCollector& errors);
    void check_end();
    void check_geojson();
    std::string driver() const;
    [[noreturn]] void fail(std::int64_t got, const ErrorCollector& errors);

    std::shared_ptr<SourcePool> pool_;
    std::size_t entry_;
    const LayerSchema& schema_;
    ReadOptions options_;
    LayerLoan loan_;
    const GeoJsonScan* geojson_;  // null: another format
    const std::vector<PlacedDamage>& damage_;
    std::unique_ptr<ArrowReader> arrow_;  // ends before the loan
    std::unique_ptr<RowStream> stream_;   // likewise
    std::unique_ptr<RowCheck> check_;     // likewise
    std::vector<RowDamage> layer_damage_;
    std::int64_t rows_read_ = 0;
    bool ended_ = false;
};

}  // namespace linewood
