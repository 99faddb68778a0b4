#include "geo/io/gpkg_file.h"
#include "geo/io/source_pool.h"
#include "geo/io/sqlite_file.h"

namespace linewood {
namespace {

/// `girth now [in]` is a meaning and a unit.
void take_description(Field& field, std::string description) {
    const auto open = description.rfind('[');
    const bool has_unit =
        !description.empty() && description.back() == ']' && open != std::string::npos;
    if (has_unit) {
        field.unit = description.substr(open + 1, description.size() - open - 2);
        description.resize(open > 0 && description[open - 1] == ' ' ? open - 1 : open);
    }
    field.meaning = std::move(description);
}

}  // namespace

void read_column_notes(GDALDataset& dataset, LayerSchema& schema) {
    const GDALDriver* driver = dataset.GetDriver();
    if (driver == nullptr || std::string_view{driver->GetDescription()} != "GPKG") {
        return;
    }
    const ErrorCollector quiet;  // a file without them, or with odd ones, is as good
    const auto ask = [&](const std::string& sql, const auto& take) {
        OGRLayer* result = dataset.ExecuteSQL(sql.c_str(), nullptr, nullptr);
        if (result == nullptr) {
            return;
        }
        for (OGRFeatureUniquePtr row{result->GetNextFeature()}; row;
             row.reset(result->GetNextFeature())) {
            take(*row);
        }
        dataset.ReleaseResultSet(result);
    };
    bool described = false;
    ask("SELECT name FROM sqlite_master WHERE name = 'gpkg_data_columns'",
        [&](const OGRFeature& /*row*/) { described = true; });
    if (!described) {
        return;
    }
    ask("SELECT column_name, description FROM gpkg_data_columns WHERE description <> '' AND "
        "lower(table_name) = lower(" +
            quoted_text(schema.name) + ")",
        [&](OGRFeature& row) {
            if (const auto at = schema.field_index(row.GetFieldAsString(0))) {
                take_description(schema.fields[*at], row.GetFieldAsString(1));
            }
        });
}

}  // namespace linewood
