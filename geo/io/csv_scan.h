#pragma once

// Private to geo/io: CSV files that GDAL would read wrongly without a word.

#include <cstdint>
#include <filesystem>
#include <vector>

#include "geo/io/row_damage.hpp"

namespace linewood {

/// Damage and the row it is in, counted from 0 without the header and without empty lines, as GDAL does.
struct PlacedDamage {
    std::int64_t row = 0;
    RowDamage damage;
};

/// Is there a row that has not as many cells as there are columns, a quotation mark where none belongs or that is never
/// closed, a byte 0? GDAL drops surplus cells, ends a row at a byte 0, and joins the rows after an unclosed mark
/// into one cell, to the end of the file. Reads the file once; one row in memory.
bool is_damaged_csv(const std::filesystem::path& file);

/// Writes the same table with every row as many cells wide as the header, and every cell quoted where it must be.
/// A mark that is not closed is taken as a character, and its row ends with its line.
/// @return what was mended, by row. @throws DataError
std::vector<PlacedDamage> mend_csv(const std::filesystem::path& file,
                                   const std::filesystem::path& copy);

}  // namespace linewood
