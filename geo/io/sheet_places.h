#pragma once

// Private to geo/io: the places of a spreadsheet's rows, which OGR takes for plain numbers and texts.

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "geo/io/layer_schema.hpp"
#include "geo/io/place_names.h"
#include "geo/io/row_check.h"

namespace linewood {

/// `XLSX`, `ODS`, `XLS`
bool is_sheet_driver(std::string_view driver);

/// Which columns of a sheet are its places, as place_columns() says. Nothing for
/// other drivers, but for a CSV of which OGR takes another column.
std::optional<PlaceColumns> sheet_places(const std::string& driver, const LayerSchema& schema);

/// Gives the schema of a sheet with places its geometry, and the coordinate system that lies beside the file as a
/// `.prj`. @throws DataError where that says nothing that can be understood.
void add_sheet_places(const std::string& driver, const std::string& file, LayerSchema& schema);

/// The `.prj` beside a spreadsheet; empty where there is none.
std::string sheet_prj(const std::string& file);

/// Puts the rows in their places; a cell that is no coordinate or no shape is damage.
/// @param others what else is to be checked; null: nothing
std::unique_ptr<RowCheck> make_sheet_place_check(PlaceColumns places,
                                                 const LayerSchema& schema,
                                                 std::unique_ptr<RowCheck> others);

}  // namespace linewood
