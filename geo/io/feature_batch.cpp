#include "geo/io/feature_batch.hpp"

#include <cassert>

#include "geo/io/batch_rows.h"

namespace linewood {
namespace {

Read<double, ValueStatus> number_of(const RawValue& value) {
    if (value.null) {
        return {};
    }
    switch (value.type) {
        case FieldType::text:
            return parse_number(value.bytes);
        case FieldType::integer:
        case FieldType::integer64:
        case FieldType::boolean:
            return {static_cast<double>(value.integer), ValueStatus::ok};
        case FieldType::real:
            return checked_number(value.real);
        default:
            return {std::nullopt, ValueStatus::unreadable};
    }
}

Read<Date, ValueStatus> date_of(const RawValue& value) {
    if (value.null) {
        return {};
    }
    if (value.type == FieldType::text) {
        return parse_date(value.bytes);
    }
    if (value.type == FieldType::date || value.type == FieldType::datetime) {
        const auto date = Date::from_ymd(value.time.year, value.time.month, value.time.day);
        return {date, date ? ValueStatus::ok : ValueStatus::unreadable};
    }
    return {std::nullopt, ValueStatus::unreadable};
}

Read<bool, ValueStatus> boolean_of(const RawValue& value) {
    if (value.null) {
        return {};
    }
    if (value.type == FieldType::text) {
        return parse_boolean(value.bytes);
    }
    const Read<double, ValueStatus> number = number_of(value);
    if (number.status != ValueStatus::ok) {
        return {std::nullopt, number.status};
    }
    // Also of a boolean column: SQLite keeps a 9 there, and a code for `unknown` is no yes.
    if (*number.value == 0.0 || *number.value == 1.0) {
        return {*number.value != 0.0, ValueStatus::ok};
    }
    return {std::nullopt, ValueStatus::unreadable};
}

}  // namespace

FeatureBatch::FeatureBatch() = default;
FeatureBatch::~FeatureBatch() = default;
FeatureBatch::FeatureBatch(FeatureBatch&&) noexcept = default;
FeatureBatch& FeatureBatch::operator=(FeatureBatch&&) noexcept = default;

std::size_t FeatureBatch::size() const { return rows_ ? rows_->size() : 0; }
std::int64_t FeatureBatch::first_row() const { return rows_ ? rows_->first_row : 0; }

std::size_t FeatureBatch::part() const { return rows_ ? rows_->part : 0; }

std::int64_t FeatureBatch::fid(std::size_t row) const {
    assert(row < size());
    return rows_->fid(row);
}

bool FeatureBatch::is_null(std::size_t row, std::size_t column) const {
    assert(row < size());
    return rows_->is_null(row, column);
}

std::string FeatureBatch::text(std::size_t row, std::size_t column) const {
    assert(row < size());
    RawValue value;
    rows_->get(row, column, value);
    std::string scratch;
    return std::string{text_of(value, scratch)};
}

std::optional<std::string_view> FeatureBatch::text_view(std::size_t row, std::size_t column) const {
    assert(row < size());
    RawValue value;
    rows_->get(row, column, value);
    if (value.null || value.type != FieldType::text) {
        return std::nullopt;
    }
    return value.bytes;
}

Read<double, ValueStatus> FeatureBatch::number(std::size_t row, std::size_t column) const {
    assert(row < size());
    RawValue value;
    rows_->get(row, column, value);
    return number_of(value);
}

Read<Date, ValueStatus> FeatureBatch::date(std::size_t row, std::size_t column) const {
    assert(row < size());
    RawValue value;
    rows_->get(row, column, value);
    return date_of(value);
}

Read<bool, ValueStatus> FeatureBatch::boolean(std::size_t row, std::size_t column) const {
    assert(row < size());
    RawValue value;
    rows_->get(row, column, value);
    return boolean_of(value);
}

std::vector<RowDamage> FeatureBatch::damage(std::size_t row) const {
    std::vector<RowDamage> out;
    for (const PlacedDamage& placed : rows_->damage) {
        if (placed.row == static_cast<std::int64_t>(row)) {
            out.push_back(placed.damage);
        }
    }
    return out;
}

bool FeatureBatch::has_geometry(std::size_t row) const {
    assert(row < size());
    return rows_->geometry(row).present();
}

bool FeatureBatch::has_usable_geometry(std::size_t row) const {
    const ShapeStatus as_point = point(row).status;
    if (as_point != ShapeStatus::other_type) {
        return as_point == ShapeStatus::ok;
    }
    const ShapeStatus as_path = path(row).status;
    return as_path == ShapeStatus::ok || as_path == ShapeStatus::other_type;
}

std::string FeatureBatch::geometry_text(std::size_t row) const {
    assert(row < size());
    return shape_text(rows_->geometry(row));
}

std::optional<Point> FeatureBatch::first_vertex(std::size_t row) const {
    assert(row < size());
    return first_vertex_of(rows_->geometry(row));
}

Read<Point, ShapeStatus> FeatureBatch::point(std::size_t row) const {
    assert(row < size());
    return point_of(rows_->geometry(row));
}

Read<LineParts, ShapeStatus> FeatureBatch::path(std::size_t row) const {
    assert(row < size());
    return path_of(rows_->geometry(row));
}

Read<Polygons, ShapeStatus> FeatureBatch::area(std::size_t row) const {
    assert(row < size());
    return polygons_of(rows_->geometry(row));
}

PathExtras FeatureBatch::path_extras(std::size_t row) const {
    assert(row < size());
    return extras_of(rows_->geometry(row));
}

}  // namespace linewood
