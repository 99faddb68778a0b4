#include "geo/io/raw_value.hpp"

#include <variant>

namespace linewood {

std::string_view text_of(const RawValue& value, std::string& scratch) {
    if (value.null) {
        return {};
    }
    const TimeStamp& t = value.time;
    switch (value.type) {
        case FieldType::text:
        case FieldType::list:
            return value.bytes;
        case FieldType::integer:
        case FieldType::integer64:
            scratch = number_text(value.integer);
            break;
        case FieldType::real:
            scratch = number_text(value.real);
            break;
        case FieldType::boolean:
            if (value.integer == 0 || value.integer == 1) {
                return value.integer == 1 ? "true" : "false";
            }
            scratch = number_text(value.integer);
            break;
        case FieldType::date:
            scratch = date_text(t.year, t.month, t.day);
            break;
        case FieldType::datetime:
            scratch = timestamp_text(t);
            break;
        case FieldType::time:
            scratch = time_text(t.hour, t.minute, t.milliseconds);
            break;
        case FieldType::binary:
            scratch = hex_text(value.bytes);
            break;
    }
    return scratch;
}

namespace {

struct FromCell {
    RawValue& value;

    void operator()(std::monostate /*null*/) const { value.null = true; }
    void operator()(double v) const {
        value.type = FieldType::real;
        value.real = v;
    }
    void operator()(std::int64_t v) const {
        value.type = FieldType::integer64;
        value.integer = v;
    }
    void operator()(bool v) const {
        value.type = FieldType::boolean;
        value.integer = v ? 1 : 0;
    }
    void operator()(Date v) const {
        const Date::Ymd ymd = v.ymd();
        value.type = FieldType::date;
        value.time = TimeStamp{};
        value.time.year = ymd.year;
        value.time.month = ymd.month;
        value.time.day = ymd.day;
    }
    void operator()(const std::string& v) const {
        value.type = FieldType::text;
        value.bytes = std::string_view{v.data(), v.find('\0') < v.size() ? v.find('\0') : v.size()};
    }
};

}  // namespace

void set_from_cell(RawValue& value, const Cell& cell) {
    value.null = false;
    std::visit(FromCell{value}, cell);
}

}  // namespace linewood
