#include "src/pipeline/contract_columns.hpp"

#include <algorithm>
#include <span>
#include <string_view>

#include "geo/io/layer_schema.hpp"
#include "geo/io/short_names.hpp"

namespace linewood {
namespace {

struct ContractColumn {
    std::string_view name;
    std::string_view unit;
    std::string_view meaning;
    FieldType type = FieldType::text;
};

constexpr ContractColumn kPoles[] = {
    {"pole_id", "", "id of the pole, unique"},
    {"species", "", "species of the wood"},
    {"pole_class", "", "H6 to H1, 1 to 7, 9, 10"},
    {"length", "ft", "length of the pole", FieldType::real},
    {"setting_depth", "ft", "from the butt to the groundline", FieldType::real},
    {"install_year", "", "year the pole was set", FieldType::integer},
    {"circuit", "", "circuit the pole carries"},
    {"material", "", "material of the pole; none stated = wood"},
    {"reinforced", "", "a reinforcement is at the pole already", FieldType::boolean},
    {"recorded_circumference",
     "in",
     "original girth at the groundline, from the records",
     FieldType::real},
    {"given_azimuth",
     "deg",
     "axis of the line at the pole, true; overrides the derived one",
     FieldType::real},
    {"given_role", "", "role in the line; overrides the derived one"},
    {"station", "", "a number that rises ahead along the line", FieldType::real},
};

constexpr ContractColumn kSpans[] = {
    {"span_id", "", "id of the span or route"},
    {"from_pole", "", "pole it is said to start from"},
    {"to_pole", "", "pole it is said to end at"},
    {"circuit", "", "circuit it belongs to"},
    {"voltage_kv", "kV", "nominal voltage", FieldType::real},
    {"kind", "", "line, service or guy; none stated = line"},
};

constexpr ContractColumn kInspections[] = {
    {"pole_id", "", "the pole"},
    {"inspected_on", "", "day of the inspection", FieldType::date},
    {"method", "", "the most done: visual, hammer, bore or excavated"},
    {"original_circumference", "in", "girth measured on sound wood", FieldType::real},
    {"original_height", "ft", "where that was measured, over the groundline", FieldType::real},
    {"present_circumference",
     "in",
     "girth at the groundline now, after shell rot is removed",
     FieldType::real},
    {"climb_safe", "", "found safe to climb", FieldType::boolean},
    {"aboveground_damage", "", "none, minor or extensive"},
    {"decay_below_excavation", "", "decay goes on below what was dug up", FieldType::boolean},
    {"treated", "", "remedial treatment was done at this visit", FieldType::boolean},
    {"notes", "", "remarks"},
};

constexpr ContractColumn kDefects[] = {
    {"pole_id", "", "the pole"},
    {"kind", "", "external_pocket, internal_rot, shell_rot or bore (found sound)"},
    {"inspected_on", "", "day it was found", FieldType::date},
    {"height", "ft", "over the groundline, down negative", FieldType::real},
    {"azimuth",
     "deg",
     "direction of the defect as azimuth_ref counts it; clock in hours",
     FieldType::real},
    {"azimuth_ref", "", "true, magnetic, grid or clock"},
    {"position", "", "in_line, out_of_line or oblique, as written down"},
    {"width", "in", "of a pocket, straight across its mouth", FieldType::real},
    {"depth", "in", "greatest depth from the present surface", FieldType::real},
    {"extent", "in", "vertical extent", FieldType::real},
    {"shell_thickness",
     "in",
     "sound wood outside internal rot, as read along the bore",
     FieldType::real},
    {"bore_angle", "deg", "between the bore and the horizontal", FieldType::real},
    {"bore_from", "", "surface or pocket"},
    {"present_circumference",
     "in",
     "girth at this height now, after shell rot is removed",
     FieldType::real},
    {"cause", "", "decay, insect, mechanical, woodpecker, fire, check or bolt_hole"},
};

std::span<const ContractColumn> columns_of(InputLayer layer) {
    switch (layer) {
        case InputLayer::poles:
            return kPoles;
        case InputLayer::spans:
            return kSpans;
        case InputLayer::inspections:
            return kInspections;
        case InputLayer::defects:
            return kDefects;
    }
    return {};
}

/// By its own name, or as a Shapefile has it: the tool's short name, or cut to ten letters.
bool is_called(const ContractColumn& column, std::string_view name) {
    constexpr std::size_t kShapefileName = 10;
    return same_name(name, column.name) || same_name(name, column.name.substr(0, kShapefileName)) ||
           same_name(name, own_short_name(column.name));
}

}  // namespace

void describe_contract_columns(InputLayer layer, std::vector<Field>& fields) {
    const auto columns = columns_of(layer);
    for (Field& field : fields) {
        if (!field.unit.empty() || !field.meaning.empty()) {
            continue;
        }
        const auto known =
            std::find_if(columns.begin(), columns.end(), [&](const ContractColumn& c) {
                return is_called(c, field.name);
            });
        if (known != columns.end()) {
            field.unit = known->unit;
            field.meaning = known->meaning;
        }
    }
}

std::vector<Field> contract_fields(InputLayer layer) {
    std::vector<Field> fields;
    for (const ContractColumn& column : columns_of(layer)) {
        Field field;
        field.name = column.name;
        field.type = column.type;
        field.unit = column.unit;
        field.meaning = column.meaning;
        fields.push_back(std::move(field));
    }
    return fields;
}

}  // namespace linewood
