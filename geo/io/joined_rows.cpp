#include "geo/io/joined_rows.h"

#include <cmath>

#include "geo/io/csv_writer.hpp"

namespace linewood {
namespace {

void set_number(RawValue& value, double number, FieldType type) {
    if (type == FieldType::real) {
        value.type = type;
        value.real = number;
    } else if (std::trunc(number) == number && std::abs(number) < 9.0e15) {
        value.type = type;
        value.integer = static_cast<std::int64_t>(number);
    }
}

int hex_digit(char c) {
    if (c >= '0' && c <= '9') {
        return c - '0';
    }
    return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

void set_bytes(RawValue& value) {
    std::string bytes;
    for (std::size_t i = 0; i + 1 < value.bytes.size(); i += 2) {
        const int high = hex_digit(value.bytes[i]);
        const int low = hex_digit(value.bytes[i + 1]);
        if (high < 0 || low < 0) {
            return;
        }
        bytes += static_cast<char>(high * 16 + low);
    }
    value.owned = std::move(bytes);
    value.bytes = value.owned;
    value.type = FieldType::binary;
}

void set_time(RawValue& value, FieldType type) {
    OGRField parsed{};
    if (OGRParseDate(std::string{value.bytes}.c_str(), &parsed, 0) == 0) {
        return;
    }
    value.time = TimeStamp{};
    value.time.year = parsed.Date.Year;
    value.time.month = parsed.Date.Month;
    value.time.day = parsed.Date.Day;
    value.time.hour = parsed.Date.Hour;
    value.time.minute = parsed.Date.Minute;
    value.time.milliseconds =
        static_cast<int>(std::lround(static_cast<double>(parsed.Date.Second) * 1000.0));
    if (parsed.Date.TZFlag > 1) {  // quarter hours from 100
        value.time.zone_minutes = (parsed.Date.TZFlag - 100) * 15;
    }
    value.type = type;
}

/// Text as the tool prints values, back into a value; what is none stays text.
void set_typed(RawValue& value, FieldType type) {
    switch (type) {
        case FieldType::text:
            return;
        case FieldType::list:
            value.type = type;
            return;
        case FieldType::integer:
        case FieldType::integer64:
        case FieldType::real:
            if (const auto number = parse_number(value.bytes); number.value) {
                set_number(value, *number.value, type);
            }
            return;
        case FieldType::boolean:
            if (const auto answer = parse_boolean(value.bytes); answer.value) {
                value.integer = *answer.value ? 1 : 0;
                value.type = type;
            }
            return;
        case FieldType::date:
        case FieldType::datetime:
        case FieldType::time:
            set_time(value, type);
            return;
        case FieldType::binary:
            set_bytes(value);
            return;
    }
}

}  // namespace

JoinedColumns::JoinedColumns(const LayerSchema& layer, const LayerSchema& other, bool csv)
    : from_csv{csv} {
    bool by_name = true;
    for (const Field& field : layer.fields) {
        types.push_back(field.type);
        positions.push_back(other.field_index(field.name));
        by_name = by_name && positions.back().has_value();
    }
    for (std::size_t i = 0; !by_name && i < positions.size(); ++i) {
        positions[i] = i < other.fields.size() ? std::optional{i} : std::nullopt;
    }
}

bool JoinedRows::is_null(std::size_t row, std::size_t column) const {
    const auto position = columns_->positions[column];
    return !position || rows_->is_null(row, *position);
}

void JoinedRows::get(std::size_t row, std::size_t column, RawValue& value) const {
    const auto position = columns_->positions[column];
    value.null = true;
    if (position) {
        rows_->get(row, *position, value);
    }
    if (!value.null && columns_->from_csv && value.type == FieldType::text) {
        value.bytes = unguarded_csv_text(value.bytes);
        set_typed(value, columns_->types[column]);
    }
}

}  // namespace linewood
