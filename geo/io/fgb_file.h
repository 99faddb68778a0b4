#pragma once

// Private to geo/io: a FlatGeobuf file of points or lines written without OGR in between, whose own way
// costs four times as much and holds 85 bytes a feature.

#include <cstdint>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "geo/io/fgb_header.h"
#include "geo/io/fgb_index.h"
#include "geo/io/out_column.h"
#include "geo/io/row_input.h"

namespace linewood {

class FgbFile {
public:
    /// Can files of these columns be written? Timestamps and 16-bit or 32-bit columns are OGR's.
    static bool suits(const GeometryType& geometry, const std::vector<OutColumn>& columns);

    /// @param empty a file of the same layer without features, made by OGR: its columns and coordinate
    ///        system are kept, and it is what is left if no row comes.
    /// @param index features in spatial order behind an index; else in the order written.
    FgbFile(std::filesystem::path empty,
            std::string shown,
            std::vector<OutColumn>& columns,
            bool index);

    /// @pre the geometry is of the layer's type, and not empty.
    void write(const LayerPlan& plan, const RowInput& input, const OGRGeometry& geometry);
    /// Puts the file together and checks that all bytes arrived. @throws DataError
    void finish();
    std::int64_t rows() const { return rows_; }

private:
    void put_value(std::size_t column, const RawValue& value);
    void put_shape(const OGRGeometry& geometry);
    void flush();
    void put_in_order();
    void check_bytes(std::uint64_t bytes) const;
    [[noreturn]] void fail() const;

    std::filesystem::path path_;
    std::filesystem::path rows_path_;  ///< with an index: rows in the order written, until the end
    std::string shown_;
    std::vector<OutColumn>& columns_;
    FgbHeader header_;
    FgbIndex index_;
    bool indexed_;
    std::ofstream out_;
    std::string buffer_;  ///< of features, until written
    RawValue value_;
    OGREnvelope box_;
    std::uint64_t bytes_ = 0;  ///< of features so far
    std::int64_t rows_ = 0;
};

}  // namespace linewood
