#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/source.hpp"

namespace linewood {

/// A condition that cannot be asked of a layer; the message says why and what to do.
class ConditionError : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// For every row of a layer, in the order FeatureReader gives them, whether it meets a condition: the
/// WHERE clause of OGR SQL (`voltage > 1 AND kind <> 'drop'`, `owner IN ('a', 'b')`, `note IS NULL`,
/// `CAST(kv AS FLOAT) > 1` where a column is text). The language is the same for every format. A
/// condition of an empty value is not met. Reads the columns it names and nothing else.
/// @throws ConditionError where it is not understood, or names no column of the layer; DataError as
///         FeatureReader.
std::vector<bool> rows_where(const Source& source,
                             std::string_view layer,
                             const std::string& condition);

/// Whether a condition can be asked of a layer, without reading a row. @throws as rows_where().
void check_row_condition(const Source& source,
                         std::string_view layer,
                         const std::string& condition);

}  // namespace linewood
