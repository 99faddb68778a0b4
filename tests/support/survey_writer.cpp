#include <algorithm>
#include <cstdio>
#include <map>

#include <cpl_error.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "tests/support/survey.hpp"
#include "tests/support/survey_gdal.hpp"

namespace linewood::testing {
namespace {

namespace fs = std::filesystem;

std::string type_of(const Table& table, const std::string& column) {
    const auto stated = table.types.find(column);
    if (stated != table.types.end()) {
        return stated->second;
    }
    std::string type = "text";
    for (const Row& row : table.rows) {
        const auto value = row.find(column);
        if (value == row.end() || value->is_null()) {
            continue;
        }
        if (value->is_string()) {
            return "text";
        }
        if (value->is_number_float() || (value->is_number() && type == "real")) {
            type = "real";
        } else if (value->is_boolean()) {
            type = "boolean";
        } else if (value->is_number_integer()) {
            type = "integer64";
        } else if (value->is_array()) {
            type = "text_list";
        }
    }
    return type;
}

std::pair<OGRFieldType, OGRFieldSubType> ogr_type(const std::string& type) {
    static const std::map<std::string, std::pair<OGRFieldType, OGRFieldSubType>> kTypes{
        {"text", {OFTString, OFSTNone}},
        {"integer", {OFTInteger, OFSTNone}},
        {"integer64", {OFTInteger64, OFSTNone}},
        {"boolean", {OFTInteger, OFSTBoolean}},
        {"real", {OFTReal, OFSTNone}},
        {"date", {OFTDate, OFSTNone}},
        {"datetime", {OFTDateTime, OFSTNone}},
        {"time", {OFTTime, OFSTNone}},
        {"text_list", {OFTStringList, OFSTNone}},
        {"binary", {OFTBinary, OFSTNone}}};
    return kTypes.at(type);
}

std::string driver_of(const fs::path& path) {
    static const std::map<std::string, std::string> kDrivers{{".gpkg", "GPKG"},
                                                             {".geojson", "GeoJSON"},
                                                             {".fgb", "FlatGeobuf"},
                                                             {".shp", "ESRI Shapefile"},
                                                             {".csv", "CSV"}};
    return kDrivers.at(path.extension().string());
}

OGRwkbGeometryType geometry_type(const std::string& name) {
    if (name.empty()) {
        return wkbNone;
    }
    return name == "GEOMETRY" ? wkbUnknown : OGRFromOGCGeomType(name.c_str());
}

void set_value(OGRFeature& feature, int field, const Row& value) {
    if (value.is_null()) {
        feature.SetFieldNull(field);
    } else if (value.is_boolean()) {
        feature.SetField(field, value.get<bool>() ? 1 : 0);
    } else if (value.is_number_integer()) {
        feature.SetField(field, static_cast<GIntBig>(value.get<std::int64_t>()));
    } else if (value.is_number()) {
        feature.SetField(field, value.get<double>());
    } else if (value.is_array()) {
        CPLStringList list;
        for (const Row& item : value) {
            list.AddString(item.get<std::string>().c_str());
        }
        feature.SetField(field, list.List());
    } else if (feature.GetFieldDefnRef(field)->GetType() == OFTBinary) {
        const auto bytes = value.get<std::string>();
        feature.SetField(field, static_cast<int>(bytes.size()), bytes.data());
    } else {
        feature.SetField(field, value.get<std::string>().c_str());
    }
}

void set_path(OGRFeature& feature, const Row& path) {
    OGRLineString line;
    for (const Row& at : path) {
        line.addPoint(at.at(0).get<double>(), at.at(1).get<double>());
    }
    if (line.getNumPoints() == 1) {
        OGRPoint point;
        line.getPoint(0, &point);
        feature.SetGeometry(&point);
    } else {
        feature.SetGeometry(&line);
    }
}

void set_geometry(OGRFeature& feature, const Row& row) {
    if (row.contains("@path")) {
        set_path(feature, row["@path"]);
        return;
    }
    const auto wkt = row.find("@wkt");
    if (wkt == row.end() || wkt->is_null()) {
        return;
    }
    OGRGeometry* geometry = nullptr;
    const std::string text = wkt->get<std::string>();
    if (OGRGeometryFactory::createFromWkt(text.c_str(), nullptr, &geometry) != OGRERR_NONE) {
        fail(text);
    }
    feature.SetGeometryDirectly(geometry);
}

void fill_layer(OGRLayer& layer, const Table& table, bool with_geometry) {
    const std::vector<std::string> columns = table.columns();
    for (const std::string& column : columns) {
        const auto [type, sub_type] = ogr_type(type_of(table, column));
        OGRFieldDefn field{column.c_str(), type};
        field.SetSubType(sub_type);
        if (layer.CreateField(&field) != OGRERR_NONE) {
            fail(column);
        }
    }
    for (const Row& row : table.rows) {
        OGRFeature feature{layer.GetLayerDefn()};
        if (row.contains("@fid")) {
            feature.SetFID(row["@fid"].get<std::int64_t>());
        }
        int field = 0;
        for (const std::string& column : columns) {
            if (row.contains(column)) {
                set_value(feature, field, row[column]);
            }
            ++field;
        }
        if (with_geometry) {
            set_geometry(feature, row);
        }
        if (layer.CreateFeature(&feature) != OGRERR_NONE) {
            fail(table.name);
        }
    }
}

/// For CSV: points as columns x and y, anything else as the column wkt.
Table with_coordinate_columns(Table table) {
    for (Row& row : table.rows) {
        const auto wkt = row.find("@wkt");
        if (wkt == row.end() || wkt->is_null()) {
            continue;
        }
        const auto text = wkt->get<std::string>();
        double x = 0.0;
        double y = 0.0;
        if (std::sscanf(text.c_str(), "POINT (%lf %lf)", &x, &y) == 2) {
            row["x"] = x;
            row["y"] = y;
        } else {
            row["wkt"] = text;
        }
    }
    return table;
}

}  // namespace

void write_table(const fs::path& path, const Table& table) {
    start_gdal();
    // What GDAL says of odd data on the way is no matter; what fails is thrown.
    const CPLErrorHandlerPusher quiet{CPLQuietErrorHandler};
    const std::string name = driver_of(path);
    if (name == "CSV") {
        const Table flat = with_coordinate_columns(table);
        GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("CSV");
        const GDALDatasetUniquePtr dataset{
            driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr)};
        OGRLayer* layer = dataset ? dataset->CreateLayer(table.name.c_str()) : nullptr;
        if (layer == nullptr) {
            fail(path.string());
        }
        fill_layer(*layer, flat, false);
        return;
    }
    GDALDatasetUniquePtr dataset;
    if (name == "GPKG" && fs::exists(path)) {
        dataset.reset(GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_UPDATE));
    } else {
        GDALDriver* driver = GetGDALDriverManager()->GetDriverByName(name.c_str());
        dataset.reset(driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    }
    const auto srs = reference(table.crs);
    CPLStringList options;
    if (name == "FlatGeobuf") {
        options.SetNameValue("SPATIAL_INDEX", "NO");
    } else if (name == "ESRI Shapefile") {
        options.SetNameValue("ENCODING", "UTF-8");
    }
    OGRLayer* layer =
        dataset ? dataset->CreateLayer(
                      table.name.c_str(), srs.get(), geometry_type(table.geometry), options.List())
                : nullptr;
    if (layer == nullptr) {
        fail(path.string());
    }
    const bool transaction = dataset->StartTransaction() == OGRERR_NONE;
    fill_layer(*layer, table, true);
    if (transaction && dataset->CommitTransaction() != OGRERR_NONE) {
        fail(path.string());
    }
}

void write_survey(const fs::path& path, const Survey& survey, std::string_view extension) {
    const bool one_file = path.extension() == ".gpkg";
    if (!one_file) {
        fs::create_directories(path);
    }
    for (const Table* table : survey.tables()) {
        if (one_file) {
            write_table(path, *table);
        } else {
            const std::string ending = table->geometry.empty() ? "csv" : std::string{extension};
            write_table(path / (table->name + "." + ending), *table);
        }
    }
}

}  // namespace linewood::testing
