#include "src/site/shown_columns.hpp"

#include <algorithm>
#include <array>

#include "src/pipeline/contract_columns.hpp"
#include "src/pipeline/output_fields.hpp"
#include "src/site/site_script.hpp"

namespace linewood {
namespace {

ShownKind kind_of(FieldType type) {
    switch (type) {
        case FieldType::integer:
        case FieldType::integer64:
        case FieldType::real:
            return ShownKind::number;
        case FieldType::boolean:
            return ShownKind::boolean;
        case FieldType::date:
            return ShownKind::date;
        case FieldType::text:
        case FieldType::datetime:
        case FieldType::time:
        case FieldType::list:
        case FieldType::binary:
            break;
    }
    return ShownKind::text;
}

ShownColumn declared_column(const Field& field, std::size_t index) {
    return {index, field.name, kind_of(field.type), field.unit, field.meaning};
}

const Field* field_named(const std::vector<Field>& fields, std::string_view name) {
    const auto found = std::find_if(
        fields.begin(), fields.end(), [&](const Field& f) { return same_name(f.name, name); });
    return found == fields.end() ? nullptr : &*found;
}

ShownColumn better_known(ShownColumn column,
                         const std::vector<Field>& own,
                         const std::vector<Field>& recorded) {
    if (const Field* field = field_named(own, column.name)) {
        return {column.index, field->name, kind_of(field->type), field->unit, field->meaning};
    }
    if (const Field* field = field_named(recorded, column.name)) {
        column.name = field->name;
        // A number that the file has as text is one; an id that the file has as a number stays one.
        column.kind = column.kind == ShownKind::text ? kind_of(field->type) : column.kind;
        if (column.meaning.empty()) {
            column.unit = field->unit;
            column.meaning = field->meaning;
        }
    }
    return column;
}

}  // namespace

const char* name_of(ShownKind kind) {
    constexpr std::array names{"number", "text", "date", "bool"};
    return names[static_cast<std::size_t>(kind)];
}

std::vector<ShownColumn> declared_columns(const LayerSchema& schema) {
    std::vector<ShownColumn> columns;
    for (std::size_t i = 0; i < schema.fields.size(); ++i) {
        columns.push_back(declared_column(schema.fields[i], i));
    }
    return columns;
}

std::vector<ShownColumn> pole_columns(const LayerSchema& schema, UnitSystem units) {
    const std::vector<Field> own = pole_fields(units);
    const std::vector<Field> recorded = contract_fields(InputLayer::poles);
    std::vector<ShownColumn> columns = declared_columns(schema);
    for (ShownColumn& column : columns) {
        // Where two columns differ by case only, the one that is found by the name keeps it.
        ShownColumn known = better_known(column, own, recorded);
        if (schema.field_index(known.name) == column.index) {
            column = std::move(known);
        }
    }
    return columns;
}

std::string shown_value(const FeatureBatch& batch, std::size_t row, const ShownColumn& column) {
    if (batch.is_null(row, column.index)) {
        return "null";
    }
    switch (column.kind) {
        case ShownKind::number:
            if (const auto number = batch.number(row, column.index); number.value) {
                return script_number(*number.value);
            } else if (number.status != ValueStatus::unreadable) {
                return "null";
            }
            break;
        case ShownKind::boolean:
            if (const auto yes = batch.boolean(row, column.index); yes.value) {
                return *yes.value ? "true" : "false";
            }
            break;
        case ShownKind::date:
            if (const auto date = batch.date(row, column.index); date.value) {
                return script_string(date.value->to_string());
            }
            break;
        case ShownKind::text:
            break;
    }
    return script_string(batch.text(row, column.index));
}

}  // namespace linewood
