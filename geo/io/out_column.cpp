#include "geo/io/out_column.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <initializer_list>
#include <limits>

#include <cpl_conv.h>

#include "geo/io/short_names.hpp"

namespace linewood {
namespace {

constexpr std::size_t kDbfTextBytes = 254;
/// A real number in a .dbf as GDAL declares it (N, 24, 15), and the decimals it writes into a spreadsheet of
/// OpenDocument.
constexpr std::size_t kDbfNumberBytes = 24;
constexpr int kDbfDecimals = 15;
constexpr int kOdsDecimals = 16;

bool is_one_of(OutputFormat format, std::initializer_list<OutputFormat> list) {
    return std::find(list.begin(), list.end(), format) != list.end();
}

Storage storage_for(FieldType type, OutputFormat format) {
    using F = OutputFormat;
    switch (type) {
        case FieldType::text:
        case FieldType::time:
        case FieldType::list:
            return Storage::text;
        case FieldType::integer:
            return Storage::integer;
        case FieldType::integer64:
            return format == F::kml ? Storage::text : Storage::integer64;
        case FieldType::real:
            return Storage::real;
        case FieldType::boolean:
            return format == F::kml ? Storage::text : Storage::boolean;
        case FieldType::date:
            return is_one_of(format,
                             {F::geopackage, F::shapefile, F::gml, F::xlsx, F::ods, F::postgis})
                       ? Storage::date
                       : Storage::text;
        case FieldType::datetime:
            return is_one_of(format, {F::geopackage, F::flatgeobuf, F::postgis}) ? Storage::datetime
                                                                                 : Storage::text;
        case FieldType::binary:
            return is_one_of(format, {F::geopackage, F::flatgeobuf, F::postgis}) ? Storage::binary
                                                                                 : Storage::text;
    }
    return Storage::text;
}

OutColumn column_for(const Field& field, const std::string& name, OutputFormat format) {
    OutColumn column;
    column.field = field;
    column.field.name = name;
    column.full_name = name;
    column.storage = storage_for(field.type, format);
    column.finite_only = format != OutputFormat::geopackage && format != OutputFormat::flatgeobuf;
    // GDAL 3.6 can do this itself (DATETIME_FORMAT=UTC), but with the sign of the offset turned round.
    column.utc = format == OutputFormat::geopackage;
    if (format == OutputFormat::shapefile) {
        column.max_bytes = kDbfTextBytes;
        column.decimals = kDbfDecimals;
        column.number_bytes = kDbfNumberBytes;
    } else if (format == OutputFormat::ods) {
        column.decimals = kOdsDecimals;
    }
    return column;
}

char* copied(std::string_view text) {
    char* out = static_cast<char*>(CPLMalloc(text.size() + 1));
    if (!text.empty()) {
        std::memcpy(out, text.data(), text.size());
    }
    out[text.size()] = '\0';
    return out;
}

/// Has it more digits before the point than there is room for? GDAL would leave out the last ones.
bool is_too_long(const OutColumn& column, double v) {
    if (column.number_bytes == 0 || !std::isfinite(v)) {
        return false;
    }
    const std::size_t digits =
        std::abs(v) < 10.0 ? 1 : 1 + static_cast<std::size_t>(std::log10(std::abs(v)));
    return digits + (v < 0.0 ? 1 : 0) > column.number_bytes;
}

/// Is it so small that of its digits fewer than six are kept?
bool is_rounded_away(const OutColumn& column, double v) {
    return column.decimals > 0 && v != 0.0 && std::abs(v) < std::pow(10.0, 6 - column.decimals);
}

bool is_integral(double v) { return std::trunc(v) == v && std::abs(v) < 9.0e18; }

bool fits_integer(const RawValue& value, bool wide) {
    if (!is_whole(value) && (value.type != FieldType::real || !is_integral(value.real))) {
        return false;
    }
    const std::int64_t number = whole_of(value);
    return wide ||
           (number >= std::numeric_limits<int>::min() && number <= std::numeric_limits<int>::max());
}

/// Names that XML elements can have: other characters become `_`; equal ones are numbered.
std::vector<std::string> element_names(const std::vector<std::string>& names) {
    std::vector<std::string> out;
    for (const std::string& full : names) {
        std::string name;
        for (const char c : full) {
            const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
            const bool later = (c >= '0' && c <= '9') || c == '-' || c == '.';
            name += letter || (later && !name.empty()) ? c : '_';
        }
        std::string free = name.empty() ? "field" : name;
        for (int n = 2; std::find(out.begin(), out.end(), free) != out.end(); ++n) {
            free = name + "_" + std::to_string(n);
        }
        out.push_back(std::move(free));
    }
    return out;
}

bool is_day(const RawValue& value) {
    return value.type == FieldType::date || value.type == FieldType::datetime;
}

void set_time(OGRFeature& feature, int index, const TimeStamp& t) {
    const int zone = t.zone_minutes ? 100 + *t.zone_minutes / 15 : 0;
    feature.SetField(index,
                     t.year,
                     t.month,
                     t.day,
                     t.hour,
                     t.minute,
                     static_cast<float>(t.milliseconds) / 1000.0F,
                     zone);
}

OGRFieldType ogr_field_type(Storage storage) {
    switch (storage) {
        case Storage::text:
            return OFTString;
        case Storage::integer:
        case Storage::boolean:
            return OFTInteger;
        case Storage::integer64:
            return OFTInteger64;
        case Storage::real:
            return OFTReal;
        case Storage::date:
            return OFTDate;
        case Storage::datetime:
            return OFTDateTime;
        case Storage::binary:
            return OFTBinary;
    }
    return OFTString;
}

OGRFieldSubType ogr_field_subtype(const OutColumn& column, OutputFormat format) {
    if (format == OutputFormat::shapefile) {
        return OFSTNone;
    }
    if (column.storage == Storage::boolean) {
        return OFSTBoolean;
    }
    if (column.field.narrow && column.storage == Storage::integer) {
        return OFSTInt16;
    }
    if (column.field.narrow && column.storage == Storage::real) {
        return OFSTFloat32;
    }
    // As JSON text a list goes into GeoJSON as the list it is.
    const bool list = column.field.type == FieldType::list &&
                      is_one_of(format, {OutputFormat::geojson, OutputFormat::geojsonl});
    return column.storage == Storage::text && (column.field.json || list) ? OFSTJSON : OFSTNone;
}

void add_count_note(const std::string& layer,
                    const OutColumn& column,
                    std::int64_t count,
                    const char* what,
                    std::vector<OutputNote>& notes) {
    if (count > 0) {
        notes.push_back({layer, column.full_name, std::to_string(count) + what});
    }
}

}  // namespace

bool is_whole(const RawValue& value) {
    return value.type == FieldType::integer || value.type == FieldType::integer64 ||
           value.type == FieldType::boolean;
}

std::int64_t whole_of(const RawValue& value) {
    return value.type == FieldType::real ? static_cast<std::int64_t>(value.real) : value.integer;
}

std::vector<OutColumn> out_columns(const LayerPlan& plan, OutputFormat format) {
    std::vector<OutColumn> columns;
    columns.reserve(plan.carried.size() + plan.added.size());
    for (const CarriedColumn& carried : plan.carried) {
        columns.push_back(column_for(plan.source.fields[carried.source], carried.name, format));
    }
    for (const Field& field : plan.added) {
        columns.push_back(column_for(field, field.name, format));
        // The tool's own numbers are never NaN or infinite in a file.
        columns.back().finite_only = true;
    }
    for (OutColumn& column : columns) {
        column.repaired_texts = plan.repaired;
    }
    if (is_one_of(format, {OutputFormat::shapefile, OutputFormat::gml})) {
        std::vector<std::string> full;
        full.reserve(columns.size());
        for (const OutColumn& column : columns) {
            full.push_back(column.full_name);
        }
        const std::vector<std::string> names =
            format == OutputFormat::gml ? element_names(full) : short_names(full);
        for (std::size_t i = 0; i < columns.size(); ++i) {
            columns[i].field.name = names[i];
        }
    }
    return columns;
}

std::unique_ptr<OGRFieldDefn> ogr_field(const OutColumn& column, OutputFormat format) {
    auto field =
        std::make_unique<OGRFieldDefn>(column.field.name.c_str(), ogr_field_type(column.storage));
    field->SetSubType(ogr_field_subtype(column, format));
    if (format == OutputFormat::shapefile) {
        if (column.storage == Storage::boolean) {
            field->SetWidth(1);
        }
    } else if (column.storage == Storage::text && column.field.type == FieldType::text) {
        field->SetWidth(column.field.width);
    }
    return field;
}

std::string_view stored_text(OutColumn& column, std::string_view text, std::string& scratch) {
    if (!is_utf8(text)) {
        ++column.repaired;
        if (column.repaired_texts) {
            column.repaired_texts->add(column.full_name, text);
        }
        scratch = repaired_utf8(text);
        text = scratch;
    }
    if (column.max_bytes > 0 && text.size() > column.max_bytes) {
        ++column.cut;
        text = utf8_prefix(text, column.max_bytes);
    }
    return text;
}

bool fits(const OutColumn& column, const RawValue& value) {
    switch (column.storage) {
        case Storage::text:
            return value.type != FieldType::real || std::isfinite(value.real);
        case Storage::integer:
            return fits_integer(value, false);
        case Storage::integer64:
            return fits_integer(value, true);
        case Storage::real:
            return is_whole(value) || (value.type == FieldType::real &&
                                       (!column.finite_only || std::isfinite(value.real)) &&
                                       !is_too_long(column, value.real));
        case Storage::boolean:
            return is_whole(value);
        case Storage::date:
        case Storage::datetime:
            return is_day(value);
        case Storage::binary:
            return value.type == FieldType::binary;
    }
    return false;
}

void set_field(OGRFeature& feature, int index, OutColumn& column, const RawValue& value) {
    if (value.null || !fits(column, value)) {
        column.refused += value.null ? 0 : 1;
        feature.SetFieldNull(index);
        return;
    }
    switch (column.storage) {
        case Storage::text: {
            std::string printed;
            std::string repaired;
            feature.SetFieldSameTypeUnsafe(
                index, copied(stored_text(column, text_of(value, printed), repaired)));
            return;
        }
        case Storage::integer:
            feature.SetFieldSameTypeUnsafe(index, static_cast<int>(whole_of(value)));
            return;
        case Storage::integer64:
            feature.SetFieldSameTypeUnsafe(index, static_cast<GIntBig>(whole_of(value)));
            return;
        case Storage::real:
            column.rounded += !is_whole(value) && is_rounded_away(column, value.real) ? 1 : 0;
            feature.SetFieldSameTypeUnsafe(
                index, is_whole(value) ? static_cast<double>(value.integer) : value.real);
            return;
        case Storage::boolean:
            feature.SetFieldSameTypeUnsafe(index, value.integer != 0 ? 1 : 0);
            return;
        case Storage::date:
        case Storage::datetime:
            set_time(feature, index, column.utc ? in_utc(value.time) : value.time);
            return;
        case Storage::binary:
            feature.SetField(index, static_cast<int>(value.bytes.size()), value.bytes.data());
            return;
    }
}

void add_loss_notes(const std::string& layer,
                    const std::vector<OutColumn>& columns,
                    std::vector<OutputNote>& notes) {
    for (const OutColumn& column : columns) {
        add_count_note(layer,
                       column,
                       column.cut,
                       " texts are longer than the 254 bytes a Shapefile can hold and were cut",
                       notes);
        add_count_note(layer,
                       column,
                       column.repaired,
                       " texts are not well-formed UTF-8; the bad bytes were replaced",
                       notes);
        add_count_note(layer,
                       column,
                       column.rounded,
                       " numbers are so small that the decimals of this format keep few of their "
                       "digits, or none",
                       notes);
        add_count_note(layer,
                       column,
                       column.refused,
                       " values do not fit the column's type and were written as null",
                       notes);
    }
}

}  // namespace linewood
