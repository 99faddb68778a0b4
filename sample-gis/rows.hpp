#pragma once

#include <span>
#include <string>
#include <variant>
#include <vector>

#include "sample-gis/records.hpp"

namespace linewood::sample {

enum class FieldType { text, real, integer, boolean, date };

struct Field {
    const char* name;
    FieldType type;
};

/// A day, so that a row can tell it from a whole number.
struct Day {
    int day = 0;
};
using Value = std::variant<std::monostate, std::string, double, int, bool, Day>;
using Row = std::vector<Value>;

/// The fields of the four layers, in the order in which `row_of` gives their values.
std::span<const Field> pole_fields();
std::span<const Field> span_fields();
std::span<const Field> inspection_fields();
std::span<const Field> defect_fields();

Row row_of(const Pole& pole);
Row row_of(const Span& span);
Row row_of(const Inspection& inspection);
Row row_of(const Defect& defect);

/// Comma-separated, quoted only where needed, null as nothing, dates as YYYY-MM-DD, booleans as
/// `true` and `false`; without a line end.
std::string csv_header(std::span<const Field> fields);
std::string csv_line(const Row& row);

}  // namespace linewood::sample
