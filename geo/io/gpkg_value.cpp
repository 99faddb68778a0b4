#include "geo/io/gpkg_value.h"

namespace linewood {
namespace {

/// The standard's form of an instant: UTC, always with milliseconds.
std::string instant_text(const TimeStamp& t) {
    std::string out =
        date_text(t.year, t.month, t.day) + "T" + time_text(t.hour, t.minute, t.milliseconds);
    if (t.milliseconds % 1000 == 0) {
        out += ".000";
    }
    return out + "Z";
}

}  // namespace

void bind_value(
    SqliteInsert& row, int parameter, OutColumn& column, const RawValue& value, std::string& text) {
    if (value.null || !fits(column, value)) {
        column.refused += value.null ? 0 : 1;
        row.bind_null(parameter);
        return;
    }
    switch (column.storage) {
        case Storage::text:
            row.bind_text(parameter, stored_text(column, text_of(value, text), text));
            return;
        case Storage::integer:
        case Storage::integer64:
            row.bind(parameter, whole_of(value));
            return;
        case Storage::boolean:
            row.bind(parameter, std::int64_t{value.integer != 0 ? 1 : 0});
            return;
        case Storage::real:
            row.bind(parameter, is_whole(value) ? static_cast<double>(value.integer) : value.real);
            return;
        case Storage::date:
            text = date_text(value.time.year, value.time.month, value.time.day);
            row.bind_text(parameter, text);
            return;
        case Storage::datetime:
            text = instant_text(column.utc ? in_utc(value.time) : value.time);
            row.bind_text(parameter, text);
            return;
        case Storage::binary:
            row.bind_bytes(parameter, value.bytes);
            return;
    }
}

}  // namespace linewood
