#include "src/report/field_report.hpp"

#include <algorithm>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "geo/io/short_names.hpp"
#include "src/pipeline/contract_columns.hpp"
#include "src/pipeline/output_fields.hpp"

namespace linewood {
namespace {

using Json = nlohmann::ordered_json;

DictionaryLayer layer_of(std::string name, std::string description, std::vector<Field> fields) {
    DictionaryLayer layer{std::move(name), "", std::move(description), {}};
    for (Field& field : fields) {
        layer.fields.push_back({std::move(field), ""});
    }
    return layer;
}

std::string cell(const std::string& text) {
    std::string out;
    for (const char c : text) {
        out += c == '|' ? "\\|" : std::string(1, c);
    }
    return out;
}

void add_tables(const std::vector<DictionaryLayer>& layers, std::string& out) {
    for (const DictionaryLayer& layer : layers) {
        out += fmt::format("\n### `{}`\n\n{}.\n\n", layer.name, layer.description);
        out += "| field | type | unit | meaning | in Shapefiles |\n";
        out += "| --- | --- | --- | --- | --- |\n";
        for (const DictionaryField& f : layer.fields) {
            out += fmt::format("| `{}` | {} | {} | {} | `{}` |\n",
                               f.field.name,
                               name_of(f.field.type),
                               f.field.unit,
                               cell(f.field.meaning),
                               short_names({f.field.name}).front());
        }
    }
}

const char* table_schema_type(FieldType type) {
    switch (type) {
        case FieldType::integer:
        case FieldType::integer64:
            return "integer";
        case FieldType::real:
            return "number";
        case FieldType::boolean:
            return "boolean";
        case FieldType::date:
            return "date";
        case FieldType::datetime:
            return "datetime";
        case FieldType::time:
            return "time";
        case FieldType::list:
            return "array";
        default:
            return "string";
    }
}

Json schema_of_fields(const std::vector<DictionaryField>& fields) {
    Json list = Json::array();
    for (const DictionaryField& f : fields) {
        Json entry{{"name", f.field.name},
                   {"type", table_schema_type(f.field.type)},
                   {"description", f.field.meaning}};
        if (!f.field.unit.empty()) {
            entry["unit"] = f.field.unit;
        }
        list.push_back(std::move(entry));
    }
    return Json{{"fields", std::move(list)}, {"missingValues", {""}}};
}

bool has_field(const DictionaryLayer& layer, std::string_view name) {
    return std::any_of(layer.fields.begin(), layer.fields.end(), [&](const DictionaryField& f) {
        return f.field.name == name;
    });
}

/// The columns of a layer of the output: the input's first, those the tool replaces kept as `in_...`.
DictionaryLayer whole_layer(const FieldLists& lists, const DictionaryLayer& out) {
    DictionaryLayer whole = out;
    for (const DictionaryLayer& in : lists.input) {
        if (in.name != out.name) {
            continue;
        }
        whole.fields = in.fields;
        for (DictionaryField& f : whole.fields) {
            if (has_field(out, f.field.name)) {
                f.field.name.insert(0, "in_");
            }
        }
        whole.fields.insert(whole.fields.end(), out.fields.begin(), out.fields.end());
    }
    return whole;
}

}  // namespace

FieldLists field_lists(UnitSystem units) {
    FieldLists lists;
    lists.input = {
        layer_of("poles", "Poles (points)", contract_fields(InputLayer::poles)),
        layer_of("spans", "Spans or routes (lines)", contract_fields(InputLayer::spans)),
        layer_of("inspections", "Inspections", contract_fields(InputLayer::inspections)),
        layer_of("defects", "Defects found", contract_fields(InputLayer::defects)),
    };
    lists.output = {
        layer_of("poles",
                 "Poles with line direction, remaining strength and verdict",
                 pole_fields(units)),
        layer_of("spans", "Spans from pole to pole", span_fields()),
        layer_of("inspections", "Inspections as read", {}),
        layer_of("defects", "Defects with direction and effective shell", defect_fields(units)),
        layer_of("sections", "Sections assessed, with strengths and limits", section_fields(units)),
        layer_of("findings", "What is doubtful in the input", finding_fields()),
        layer_of("run", "What made this dataset, and cautions", run_fields()),
    };
    return lists;
}

std::string fields_markdown(const FieldLists& lists) {
    std::string out =
        "# Fields\n\n## What comes in\n\nA field that is missing is not recorded, never zero.\n";
    add_tables(lists.input, out);
    out += "\n## What comes out\n\nBeside every field of the input.\n";
    std::vector<DictionaryLayer> added;
    std::copy_if(lists.output.begin(),
                 lists.output.end(),
                 std::back_inserter(added),
                 [](const DictionaryLayer& layer) { return !layer.fields.empty(); });
    add_tables(added, out);
    return out;
}

std::string fields_json(const FieldLists& lists) {
    return Json{{"input", Json::parse(field_dictionary_json(lists.input))["layers"]},
                {"output", Json::parse(field_dictionary_json(lists.output))["layers"]}}
               .dump(2) +
           "\n";
}

std::string fields_table_schema(const FieldLists& lists) {
    Json resources = Json::array();
    for (const DictionaryLayer& out : lists.output) {
        const DictionaryLayer layer = whole_layer(lists, out);
        Json schema = schema_of_fields(layer.fields);
        if (layer.name == "poles") {
            schema["primaryKey"] = "pole_id";
        } else if (has_field(layer, "pole_id")) {
            schema["foreignKeys"] = {
                {{"fields", "pole_id"},
                 {"reference", {{"resource", "poles"}, {"fields", "pole_id"}}}}};
        }
        resources.push_back({{"name", layer.name},
                             {"path", layer.name + ".csv"},
                             {"profile", "tabular-data-resource"},
                             {"description", layer.description},
                             {"schema", std::move(schema)}});
    }
    return Json{{"name", "linewood"}, {"resources", std::move(resources)}}.dump(2) + "\n";
}

}  // namespace linewood
