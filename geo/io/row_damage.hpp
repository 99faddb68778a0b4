#pragma once

#include <cstdint>
#include <string>

namespace linewood {

/// What was wrong with a row in the file itself. The row is read as far as it goes.
enum class DamageKind : std::uint8_t {
    surplus_cells,  ///< more cells than columns: `value` is what is left over
    missing_cells,  ///< fewer cells than columns: `field` is the first without one, `value` the row
    quote_unclosed,   ///< a quotation mark opens the cell and is never closed: taken as a character
    quote_misplaced,  ///< a quotation mark within an unquoted cell: taken as a character
    nul_bytes,        ///< a byte 0: replaced by U+FFFD; in `value` it is `\x00`
    nul_in_database,  ///< the same in a table that does hold it: said where the text is written
    geometry,         ///< a geometry that is none: `value` says why
    row_lost          ///< the row cannot be read at all: `value` is what stands there
};

struct RowDamage {
    DamageKind kind = DamageKind::surplus_cells;
    std::string field = {};  ///< empty where it is not one column's
    std::string value = {};  ///< of long ones the beginning
};

}  // namespace linewood
