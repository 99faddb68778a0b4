#include "tests/support/survey.hpp"

#include <algorithm>
#include <memory>
#include <mutex>
#include <stdexcept>

#include <cpl_error.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

namespace linewood::testing {
namespace {

namespace fs = std::filesystem;

void start_gdal() {
    static std::once_flag once;
    std::call_once(once, [] { GDALAllRegister(); });
}

[[noreturn]] void fail(const std::string& what) {
    throw std::runtime_error{what + ": " + CPLGetLastErrorMsg()};
}

bool is_hidden(const std::string& key) { return key.rfind('@', 0) == 0; }

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

/// Keeps longitude before latitude, whatever the authority says.
std::unique_ptr<OGRSpatialReference> reference(const std::string& crs) {
    if (crs.empty()) {
        return nullptr;
    }
    auto srs = std::make_unique<OGRSpatialReference>();
    if (srs->SetFromUserInput(crs.c_str()) != OGRERR_NONE) {
        fail(crs);
    }
    srs->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    return srs;
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

std::string point_wkt(double x, double y) { return OGRPoint{x, y}.exportToWkt(OGRWktOptions{}); }

}  // namespace

std::vector<std::string> Table::columns() const {
    std::vector<std::string> all;
    const auto take = [&](const std::string& column) {
        if (!is_hidden(column) && std::find(all.begin(), all.end(), column) == all.end()) {
            all.push_back(column);
        }
    };
    for (const std::string& column : first_columns) {
        take(column);
    }
    for (const Row& r : rows) {
        for (const auto& item : r.items()) {
            take(item.key());
        }
    }
    for (const auto& [column, type] : types) {
        take(column);
    }
    return all;
}

bool Table::has_column(std::string_view column) const {
    const auto all = columns();
    return std::find(all.begin(), all.end(), column) != all.end();
}

const Row& Table::row(std::string_view column, const Row& value) const {
    const Row* found = nullptr;
    for (const Row& r : rows) {
        const auto at = r.find(std::string{column});
        if (at != r.end() && *at == value) {
            if (found != nullptr) {
                throw std::out_of_range{name + ": two rows with " + value.dump()};
            }
            found = &r;
        }
    }
    if (found == nullptr) {
        throw std::out_of_range{name + ": no row with " + value.dump()};
    }
    return *found;
}

Table& Table::fill(const std::string& column, const Row& value) {
    for (Row& r : rows) {
        r[column] = value;
    }
    return *this;
}

Row& Survey::add_pole(std::string_view id, double x, double y, const Row& more) {
    Row row{{"@wkt", point_wkt(x0 + x, y0 + y)}, {"pole_id", id}};
    merge(row, more);
    poles.rows.push_back(std::move(row));
    return poles.rows.back();
}

Row& Survey::add_span(const std::vector<std::pair<double, double>>& path, const Row& more) {
    OGRLineString line;
    for (const auto& [x, y] : path) {
        line.addPoint(x0 + x, y0 + y);
    }
    Row row{{"@wkt", line.exportToWkt(OGRWktOptions{})}};
    merge(row, more);
    spans.rows.push_back(std::move(row));
    return spans.rows.back();
}

Row& Survey::add_visit(std::string_view pole, std::string_view date, const Row& more) {
    Row row{{"pole_id", pole}};
    row["inspected_on"] = date.empty() ? Row(nullptr) : Row(date);
    merge(row, more);
    inspections.rows.push_back(std::move(row));
    return inspections.rows.back();
}

Row& Survey::add_defect(std::string_view pole, std::string_view kind, const Row& more) {
    Row row{{"pole_id", pole}, {"kind", kind}};
    merge(row, more);
    defects.rows.push_back(std::move(row));
    return defects.rows.back();
}

void Survey::set_crs(const std::string& crs) {
    for (Table* table : {&poles, &spans, &inspections, &defects}) {
        if (!table->geometry.empty()) {
            table->crs = crs;
        }
    }
}

Survey five_poles() {
    Survey s;
    const char* const names[] = {"A", "B", "C", "D", "E"};
    for (int i = 0; i < 5; ++i) {
        s.add_pole(names[i], 0.0, 40.0 * i);
    }
    s.add_span({{0, 0}, {0, 40}, {0, 80}, {0, 120}, {0, 160}}, {{"circuit", "north"}});
    const Row sound{
        {"method", "excavated"}, {"original_circumference", 40.0}, {"present_circumference", 40.0}};
    for (const char* const pole : {"A", "B", "C", "D"}) {
        s.add_visit(pole, "2024-05-01", sound);
    }
    // An even shell all round: 1 - (1 - 2 pi t / 40)^4 of the strength is left.
    s.add_defect("B", "internal_rot", {{"height", 0.0}, {"shell_thickness", 3.5}});
    s.add_defect("C", "internal_rot", {{"height", 0.0}, {"shell_thickness", 1.0}});
    s.add_defect("C", "bore", {{"height", 2.0}});
    s.add_defect("D", "internal_rot", {{"height", 6.0}, {"shell_thickness", 0.75}});
    return s;
}

Survey odd_network() {
    Survey s;
    const std::pair<const char*, Position> places[] = {{"T1", {-120, 0}},
                                                       {"T2", {-80, 1}},
                                                       {"T3", {-40, 0}},
                                                       {"J", {0, 0}},
                                                       {"E1", {45, 3}},
                                                       {"N1", {-2, 41}},
                                                       {"N2", {24, 72}}};
    for (const auto& [id, at] : places) {
        s.add_pole(id, at.first, at.second);
        s.add_visit(id,
                    "2024-05-01",
                    {{"method", "excavated"},
                     {"original_circumference", 40.0},
                     {"present_circumference", 38.5}});
    }
    s.add_span({{-120, 0}, {-80, 1}, {-40, 0}, {0, 0}}, {{"circuit", "1"}, {"voltage_kv", 12.0}});
    s.add_span({{0, 0}, {45, 3}}, {{"circuit", "1"}, {"voltage_kv", 12.0}});
    s.add_span({{0, 0}, {-2, 41}, {24, 72}}, {{"circuit", "2"}, {"voltage_kv", 4.0}});
    const Row nowhere{{"azimuth", nullptr}, {"azimuth_ref", "true"}};
    const auto add = [&](const char* pole, const char* kind, const Row& more) {
        merge(merge(s.add_defect(pole, kind, {{"height", 0.0}}), nowhere), more);
    };
    add("T2", "external_pocket", {{"position", "out_of_line"}, {"width", 5.0}, {"depth", 2.5}});
    add("T2", "external_pocket", {{"position", nullptr}, {"width", 3.0}, {"depth", 1.5}});
    add("T3", "internal_rot", {{"azimuth", 17.0}, {"shell_thickness", 2.5}});
    add("T3", "internal_rot", {{"azimuth", 200.0}, {"shell_thickness", 3.5}});
    add("T3",
        "external_pocket",
        {{"azimuth", 111.0}, {"width", 4.0}, {"depth", 1.0}, {"height", 3.0}});
    // No section is its own mirror image: which direction is weakest is then beyond doubt.
    add("T3",
        "external_pocket",
        {{"azimuth", 145.0}, {"width", 2.0}, {"depth", 1.5}, {"height", 3.0}});
    add("J", "external_pocket", {{"azimuth", 340.0}, {"width", 2.0}, {"depth", 2.0}});
    add("N1", "external_pocket", {{"azimuth", 30.0}, {"width", 2.0}, {"depth", 2.0}});
    add("J", "external_pocket", {{"azimuth", 301.0}, {"width", 6.0}, {"depth", 3.0}});
    add("N1", "external_pocket", {{"azimuth", 77.0}, {"width", 6.0}, {"depth", 3.0}});
    add("N1", "bore", {{"azimuth", 250.0}});
    add("N2", "shell_rot", {{"depth", 0.5}});
    return s;
}

namespace {

/// Gives every geometry of a table to `change`.
void change_geometries(Table& table, const std::function<void(OGRGeometry&)>& change) {
    for (Row& row : table.rows) {
        const auto wkt = row.find("@wkt");
        if (wkt == row.end() || wkt->is_null()) {
            continue;
        }
        OGRGeometry* read = nullptr;
        OGRGeometryFactory::createFromWkt(wkt->get<std::string>().c_str(), nullptr, &read);
        const OGRGeometryUniquePtr geometry{read};
        change(*geometry);
        // All digits of a double; the usual fifteen would move a point by a hair.
        OGRWktOptions digits;
        digits.precision = 17;
        digits.format = OGRWktFormat::G;
        row["@wkt"] = geometry->exportToWkt(digits);
    }
}

class Mover : public OGRDefaultGeometryVisitor {
public:
    explicit Mover(const std::function<Position(Position)>& move) : move_{move} {}
    using OGRDefaultGeometryVisitor::visit;
    void visit(OGRPoint* point) override {
        const auto [x, y] = move_({point->getX(), point->getY()});
        point->setX(x);
        point->setY(y);
    }

private:
    const std::function<Position(Position)>& move_;
};

}  // namespace

Survey moved(Survey survey, const std::function<Position(Position)>& move) {
    Mover mover{move};
    for (Table* table : {&survey.poles, &survey.spans, &survey.inspections, &survey.defects}) {
        change_geometries(*table, [&](OGRGeometry& g) { g.accept(&mover); });
    }
    return survey;
}

Survey in_crs(Survey survey, const std::string& crs) {
    for (Table* table : {&survey.poles, &survey.spans, &survey.inspections, &survey.defects}) {
        if (table->geometry.empty()) {
            continue;
        }
        const auto from = reference(table->crs);
        const auto to = reference(crs);
        const std::unique_ptr<OGRCoordinateTransformation> transform{
            OGRCreateCoordinateTransformation(from.get(), to.get())};
        change_geometries(*table, [&](OGRGeometry& g) { g.transform(transform.get()); });
        table->crs = crs;
    }
    return survey;
}

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

Row& merge(Row& row, const Row& more) {
    if (!more.is_null()) {
        row.update(more);
    }
    return row;
}

std::vector<Row> without(std::vector<Row> rows, const std::vector<std::string>& keys) {
    for (Row& row : rows) {
        for (const std::string& key : keys) {
            row.erase(key);
        }
    }
    return rows;
}

std::vector<Row> where(const Table& table, std::string_view column, const Row& value) {
    std::vector<Row> found;
    for (const Row& row : table.rows) {
        const auto at = row.find(std::string{column});
        if (at != row.end() && *at == value) {
            found.push_back(row);
        }
    }
    return found;
}

}  // namespace linewood::testing
