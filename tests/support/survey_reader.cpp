#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "tests/support/survey.hpp"
#include "tests/support/survey_gdal.hpp"

namespace linewood::testing {
namespace {

namespace fs = std::filesystem;

std::string two_digits(int n) { return (n < 10 ? "0" : "") + std::to_string(n); }

/// Dates and times as they are stored; a zone only where one is.
std::string time_text(const OGRFeature& feature, int field, OGRFieldType type) {
    int year = 0;
    int month = 0;
    int day = 0;
    int hour = 0;
    int minute = 0;
    int zone = 0;
    float second = 0.0F;
    feature.GetFieldAsDateTime(field, &year, &month, &day, &hour, &minute, &second, &zone);
    const std::string date = std::to_string(year) + "-" + two_digits(month) + "-" + two_digits(day);
    if (type == OFTDate) {
        return date;
    }
    const std::string time =
        two_digits(hour) + ":" + two_digits(minute) + ":" + two_digits(static_cast<int>(second));
    return type == OFTTime ? time : date + "T" + time + (zone == 100 ? "Z" : "");
}

Row value_of(const OGRFeature& feature, int field) {
    if (!feature.IsFieldSetAndNotNull(field)) {
        return nullptr;
    }
    const OGRFieldDefn& defn = *feature.GetFieldDefnRef(field);
    switch (defn.GetType()) {
        case OFTInteger:
        case OFTInteger64:
            if (defn.GetSubType() == OFSTBoolean) {
                return feature.GetFieldAsInteger(field) != 0;
            }
            return static_cast<std::int64_t>(feature.GetFieldAsInteger64(field));
        case OFTReal:
            return feature.GetFieldAsDouble(field);
        case OFTDate:
        case OFTTime:
        case OFTDateTime:
            return time_text(feature, field, defn.GetType());
        default:
            return feature.GetFieldAsString(field);
    }
}

Row row_of(OGRFeature& feature) {
    Row row = Row::object();
    row["@fid"] = static_cast<std::int64_t>(feature.GetFID());
    row["@wkt"] = nullptr;
    if (const OGRGeometry* geometry = feature.GetGeometryRef()) {
        row["@wkt"] = geometry->exportToWkt();
    }
    for (int i = 0; i < feature.GetFieldCount(); ++i) {
        row[feature.GetFieldDefnRef(i)->GetNameRef()] = value_of(feature, i);
    }
    return row;
}

GDALDatasetUniquePtr open(const fs::path& path) {
    start_gdal();
    GDALDatasetUniquePtr dataset{
        GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY)};
    if (!dataset) {
        fail(path.string());
    }
    return dataset;
}

Table table_of(OGRLayer& layer) {
    Table table;
    table.name = layer.GetName();
    if (layer.GetGeomType() != wkbNone) {
        table.geometry = OGRToOGCGeomType(layer.GetGeomType());
    }
    if (const OGRSpatialReference* srs = layer.GetSpatialRef()) {
        char* wkt = nullptr;
        srs->exportToWkt(&wkt);
        table.crs = wkt;
        CPLFree(wkt);
    }
    OGRFeatureDefn& defn = *layer.GetLayerDefn();
    for (int i = 0; i < defn.GetFieldCount(); ++i) {
        const OGRFieldDefn& field = *defn.GetFieldDefn(i);
        table.first_columns.emplace_back(field.GetNameRef());
        table.types[field.GetNameRef()] = field.GetSubType() == OFSTBoolean
                                              ? "boolean"
                                              : OGRFieldDefn::GetFieldTypeName(field.GetType());
    }
    layer.ResetReading();
    while (const OGRFeatureUniquePtr feature{layer.GetNextFeature()}) {
        table.rows.push_back(row_of(*feature));
    }
    return table;
}

}  // namespace

Table read_table(const fs::path& path, const std::string& layer_name) {
    const GDALDatasetUniquePtr dataset = open(path);
    OGRLayer* layer =
        layer_name.empty() ? dataset->GetLayer(0) : dataset->GetLayerByName(layer_name.c_str());
    if (layer == nullptr) {
        fail(path.string() + ": no layer " + layer_name);
    }
    return table_of(*layer);
}

Table read_sql(const fs::path& path, const std::string& sql) {
    const GDALDatasetUniquePtr dataset = open(path);
    OGRLayer* layer = dataset->ExecuteSQL(sql.c_str(), nullptr, nullptr);
    if (layer == nullptr) {
        fail(sql);
    }
    Table table = table_of(*layer);
    dataset->ReleaseResultSet(layer);
    return table;
}

std::vector<std::string> layer_names(const fs::path& path) {
    const GDALDatasetUniquePtr dataset = open(path);
    std::vector<std::string> names;
    for (int i = 0; i < dataset->GetLayerCount(); ++i) {
        names.emplace_back(dataset->GetLayer(i)->GetName());
    }
    return names;
}

}  // namespace linewood::testing
