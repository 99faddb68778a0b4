#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "geo/io/cell.hpp"
#include "geo/io/value_text.hpp"

namespace linewood {

/// One stored value as the file has it, between reading and writing. `type` says which members count:
/// text, list (as JSON) and binary use `bytes`; integer, integer64 and boolean `integer`; real `real`;
/// date, datetime and time `time`.
struct RawValue {
    bool null = true;
    FieldType type = FieldType::text;
    std::int64_t integer = 0;
    double real = 0.0;
    std::string_view bytes =
        {};  ///< valid until the batch is refilled, or while `owned` is unchanged
    TimeStamp time = {};
    std::string owned = {};  ///< backs `bytes` where the file has no ready text
};

/// The value as text, as FeatureBatch::text() states; a view into `value` or into `scratch`.
std::string_view text_of(const RawValue& value, std::string& scratch);

/// A view of `cell` as a stored value; text is not copied. @pre the cell outlives its use.
void set_from_cell(RawValue& value, const Cell& cell);

}  // namespace linewood
