#pragma once

// Private to geo/io: what stands in a file where OGR makes numbers, days and answers of texts.

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "geo/io/feature_reader.hpp"
#include "geo/io/gdal_session.h"

namespace linewood {

/// The cells of a layer word for word.
class WrittenCells {
public:
    WrittenCells() = default;
    virtual ~WrittenCells() = default;
    WrittenCells(const WrittenCells&) = delete;
    WrittenCells& operator=(const WrittenCells&) = delete;
    WrittenCells(WrittenCells&&) = delete;
    WrittenCells& operator=(WrittenCells&&) = delete;

    /// Moves on to the row of that FID. Rows are asked for in the layer's order, some may be left out.
    /// @return false where it is not found.
    virtual bool go_to(std::int64_t fid) = 0;
    /// The cell in a column of the schema, without blanks around it; empty where nothing stands there, nothing
    /// where that is not known. Valid until the next call.
    virtual std::optional<std::string_view> cell(std::size_t column) = 0;
};

/// A Shapefile's table, or one by itself. @throws DataError where it is damaged.
std::unique_ptr<WrittenCells> open_dbf_cells(const std::string& file, const LayerSchema& schema);

/// A CSV file, whose types are those of a `.csvt` beside it.
std::unique_ptr<WrittenCells> open_csv_cells(const std::string& file, const LayerSchema& schema);

/// A GML, KML or MIF file, opened once more without its types, so that all is text.
std::unique_ptr<WrittenCells> open_text_twin(const std::string& file,
                                             const std::string& driver,
                                             const std::string& inner_name,
                                             const LayerSchema& schema);

}  // namespace linewood
