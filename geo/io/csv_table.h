#pragma once

// Private to geo/io: rows of a layer as a CSV file, with or without their coordinates.

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "geo/io/csv_writer.hpp"
#include "geo/io/row_input.h"

namespace linewood {

class CsvTable {
public:
    /// How the geometry is written: not at all, as two columns, as well-known text.
    enum class Shape { none, xy, wkt };

    CsvTable(const std::filesystem::path& path, const LayerPlan& plan, Shape shape);

    /// @pre with Shape::xy the geometry is a point or null.
    void write(const LayerPlan& plan, const RowInput& input, const OGRGeometry* geometry);
    void finish() { writer_.finish(); }
    std::int64_t rows() const { return writer_.rows(); }
    std::vector<OutColumn>& columns() { return columns_; }
    const std::vector<OutColumn>& columns() const { return columns_; }
    Shape shape() const { return shape_; }

private:
    void put(OutColumn& column, const RawValue& value);
    void put_geometry(const OGRGeometry* geometry);

    std::vector<OutColumn> columns_;
    Shape shape_;
    CsvWriter writer_;
    RawValue value_;
};

/// The types of a table's columns as OGR and others read them beside a CSV (`.csvt`).
std::string csvt_of(const std::vector<OutColumn>& columns, CsvTable::Shape shape);

/// A layer that is one CSV file: a plain table in any folder format, and every layer of the CSV format.
std::unique_ptr<LayerSink> make_csv_layer(const std::filesystem::path& folder,
                                          const LayerPlan& plan,
                                          bool with_shape);

}  // namespace linewood
