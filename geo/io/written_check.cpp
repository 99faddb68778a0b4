#include "geo/io/written_check.h"

#include <cmath>

#include "geo/io/nul_text.h"
#include "geo/io/row_stream.h"
#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

bool says_number(std::string_view written, double value) {
    const auto number = parse_number(written);
    return number.value && *number.value == value;
}

bool says_answer(std::string_view written, std::int64_t value) {
    const auto answer = parse_boolean(written);
    return answer.value && *answer.value == (value != 0);
}

/// A day as other programs spell it, which OGR knows too (`2024/05/01`), and no more than that.
bool is_spelt_day(std::string_view written) {
    return written.find_first_not_of("0123456789/-:.TZ+ ") == std::string_view::npos;
}

bool says_day(std::string_view written, const TimeStamp& value) {
    const auto day = parse_date(written);
    if (!day.value) {
        return is_spelt_day(written);
    }
    const Date::Ymd ymd = day.value->ymd();
    return ymd.year == value.year && ymd.month == value.month && ymd.day == value.day;
}

bool says_nothing(std::string_view written, FieldType type) {
    // A dBASE table's day and answer that are none.
    const bool blank = written.find_first_not_of(" \t") == std::string_view::npos;
    return blank || (type == FieldType::date && written == "00000000") ||
           (type == FieldType::boolean && written == "?");
}

/// Is `value` what is written?
bool says(std::string_view written, const RawValue& value, FieldType type) {
    if (value.null) {
        return says_nothing(written, type);
    }
    switch (value.type) {
        case FieldType::integer:
        case FieldType::integer64:
            return says_number(written, static_cast<double>(value.integer));
        case FieldType::real:
            return says_number(written, value.real);
        case FieldType::boolean:
            return says_answer(written, value.integer);
        case FieldType::date:
        case FieldType::datetime:
            return says_day(written, value.time);
        default:
            return true;
    }
}

bool is_typed(FieldType type) {
    return type == FieldType::integer || type == FieldType::integer64 || type == FieldType::real ||
           type == FieldType::boolean || type == FieldType::date || type == FieldType::datetime;
}

}  // namespace

/// OGR ends a text at a byte 0. What is behind it is in the file's own encoding: other than ASCII it is shown by digits.
void WrittenCheck::mend_text(FeatureRows& rows,
                             std::size_t row,
                             std::size_t column,
                             std::string_view written) {
    if (written.find('\0') == std::string_view::npos) {
        return;
    }
    RawValue value;
    rows.get(row, column, value);
    const std::string rest = escaped_utf8(written.substr(written.find('\0')));
    const std::string begin{value.null ? std::string_view{} : value.bytes};
    rows.keep_as_written(row, column, begin + with_nul_as(rest, kNulReplacement));
    rows.damage.push_back(
        {static_cast<std::int64_t>(row),
         {DamageKind::nul_in_database,
          rows.features[row]->GetFieldDefnRef(static_cast<int>(column))->GetNameRef(),
          begin + with_nul_as(rest, kNulShown)}});
}

void WrittenCheck::check(BatchRows& rows, std::int64_t /*first_row*/) {
    auto* features = dynamic_cast<FeatureRows*>(&rows);
    if (features == nullptr) {
        return;
    }
    RawValue value;
    for (std::size_t row = 0; row < features->size(); ++row) {
        if (!cells_->go_to(features->fid(row))) {
            continue;
        }
        for (const TypedColumn& column : columns_) {
            const auto written = cells_->cell(column.index);
            if (!written) {
                continue;
            }
            if (column.type == FieldType::text) {
                mend_text(*features, row, column.index, *written);
                continue;
            }
            features->get(row, column.index, value);
            if (!says(*written, value, column.type)) {
                features->keep_as_written(row, column.index, std::string{*written});
            }
        }
    }
}

std::unique_ptr<RowCheck> make_written_check(const std::string& driver,
                                             OGRLayer& layer,
                                             const LayerSchema& schema,
                                             const ReadOptions& options,
                                             const std::string& path) {
    std::vector<WrittenCheck::TypedColumn> columns;
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        const FieldType type = schema.fields[i].type;
        const bool may_be_cut = driver == "ESRI Shapefile" && type == FieldType::text;
        if ((is_typed(type) || may_be_cut) && (is_wanted(options, i) || !options.where.empty())) {
            columns.push_back({i, type});
        }
    }
    if (columns.empty()) {
        return nullptr;
    }
    std::unique_ptr<WrittenCells> cells;
    if (driver == "ESRI Shapefile") {
        cells = open_dbf_cells(path, schema);
    } else if (driver == "CSV") {
        cells = open_csv_cells(path, schema);
    } else if (driver == "GML" || driver == "KML" || driver == "LIBKML" ||
               driver == "MapInfo File") {
        cells = open_text_twin(path, driver, layer.GetName(), schema);
    }
    return cells ? std::make_unique<WrittenCheck>(std::move(cells), std::move(columns)) : nullptr;
}

}  // namespace linewood
