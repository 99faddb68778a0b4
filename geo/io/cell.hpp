#pragma once

#include <cstdint>
#include <string>
#include <variant>

#include "assess/units/date.hpp"

namespace linewood {

/// What a column holds. `time`, `list` and `binary` are carried from input to output (natively where
/// the format can, otherwise as text: lists as JSON, bytes as hexadecimal); nothing computes with them.
enum class FieldType : std::uint8_t {
    text,
    integer,
    integer64,
    real,
    boolean,
    date,
    datetime,
    time,
    list,
    binary
};

/// The name used in documents: `text`, `integer`, ...
const char* name_of(FieldType type);

/// One column. `unit` (as printed: `in`, `mm`, `%`, `deg`) and `meaning` go into the file itself
/// where the format can hold them (GeoPackage: gpkg_data_columns), else into `fields.csv` beside.
struct Field {
    std::string name;
    FieldType type = FieldType::text;
    int width = 0;        ///< greatest number of characters the format declares; 0 = no limit
    bool narrow = false;  ///< declared as 16-bit integer or 32-bit float
    bool json = false;    ///< a text column declared to hold JSON
    std::string unit = {};
    std::string meaning = {};
};

/// A value for an added column: null, real, integer, boolean, date or text. The cell should suit the
/// column's type; a number in a text column is printed, a boolean in a number column is 0 or 1, and
/// what does not fit (text in a number column, NaN, infinity) is written as null.
using Cell = std::variant<std::monostate, double, std::int64_t, bool, Date, std::string>;

}  // namespace linewood
