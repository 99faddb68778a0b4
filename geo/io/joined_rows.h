#pragma once

// Private to geo/io: rows from another file of the same layer.

#include <memory>
#include <optional>
#include <vector>

#include "geo/io/batch_rows.h"
#include "geo/io/layer_schema.hpp"

namespace linewood {

/// How the columns of a layer's first file are found in another that holds more of its rows.
struct JoinedColumns {
    std::vector<FieldType> types;                       ///< of the layer
    std::vector<std::optional<std::size_t>> positions;  ///< in the other file
    bool from_csv =
        false;  ///< texts were made safe for spreadsheets, and stand for values of any type

    /// By name, or where the names are none of theirs (a Shapefile's are short), by place.
    JoinedColumns(const LayerSchema& layer, const LayerSchema& other, bool csv);
};

/// Rows of the other file, as rows of the layer.
class JoinedRows final : public BatchRows {
public:
    /// @param base_fid of the other file's first row.
    JoinedRows(std::unique_ptr<BatchRows> rows,
               std::shared_ptr<const JoinedColumns> columns,
               std::int64_t base_fid)
        : rows_{std::move(rows)}, columns_{std::move(columns)}, base_fid_{base_fid} {
        damage = std::move(rows_->damage);
    }

    std::size_t size() const override { return rows_->size(); }
    std::int64_t fid(std::size_t row) const override {
        return base_fid_ + rows_->fid(row) - (columns_->from_csv ? 1 : 0);  // a CSV counts from 1
    }
    bool is_null(std::size_t row, std::size_t column) const override;
    void get(std::size_t row, std::size_t column, RawValue& value) const override;
    StoredGeometry geometry(std::size_t row) const override { return rows_->geometry(row); }

private:
    std::unique_ptr<BatchRows> rows_;
    std::shared_ptr<const JoinedColumns> columns_;
    std::int64_t base_fid_;
};

}  // namespace linewood
