#pragma once

// Private to geo/io: attribute values as a GeoPackage stores them.

#include <string>

#include "geo/io/out_column.h"
#include "geo/io/sqlite_file.h"

namespace linewood {

/// Binds a value for a column; what does not fit its type is bound as null and counted in `column`.
/// `text` holds printed values; it and `value` must stay until the row is in.
void bind_value(
    SqliteInsert& row, int parameter, OutColumn& column, const RawValue& value, std::string& text);

}  // namespace linewood
