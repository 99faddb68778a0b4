#include "src/pipeline/contract_columns.hpp"

#include <algorithm>

#include "geo/io/layer_schema.hpp"
#include "geo/io/short_names.hpp"
#include "src/job/contract_fields.hpp"

namespace linewood {
namespace {

/// By its own name, or as a Shapefile has it: the tool's short name, or cut to ten letters.
bool is_called(const ContractField& field, std::string_view name) {
    constexpr std::size_t kShapefileName = 10;
    return same_name(name, field.name) || same_name(name, field.name.substr(0, kShapefileName)) ||
           same_name(name, own_short_name(field.name));
}

/// The column that holds such values best.
FieldType type_of(const ContractField& field) {
    switch (field.quantity) {
        case Quantity::number:
            return field.whole ? FieldType::integer : FieldType::real;
        case Quantity::girth:
        case Quantity::length:
        case Quantity::angle:
        case Quantity::azimuth:
            return FieldType::real;
        case Quantity::boolean:
            return FieldType::boolean;
        case Quantity::date:
            return FieldType::date;
        case Quantity::text:
        case Quantity::code:
            return FieldType::text;
    }
    return FieldType::text;
}

}  // namespace

void describe_contract_columns(InputLayer layer, std::vector<Field>& fields) {
    const auto known_fields = input_fields(layer);
    for (Field& field : fields) {
        if (!field.unit.empty() || !field.meaning.empty()) {
            continue;
        }
        const auto known = std::find_if(
            known_fields.begin(), known_fields.end(), [&](const ContractField& known_field) {
                return is_called(known_field, field.name);
            });
        if (known != known_fields.end()) {
            field.unit = known->unit;
            field.meaning = known->meaning;
        }
    }
}

std::vector<Field> contract_fields(InputLayer layer) {
    std::vector<Field> fields;
    for (const ContractField& known : input_fields(layer)) {
        Field field;
        field.name = known.name;
        field.type = type_of(known);
        field.unit = known.unit;
        field.meaning = known.meaning;
        fields.push_back(std::move(field));
    }
    return fields;
}

}  // namespace linewood
