#include "sample-gis/writer.hpp"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <unordered_map>

#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include "sample-gis/rows.hpp"

namespace linewood::sample {
namespace {

constexpr double kDegreesPerRadian = 57.29577951308232;

[[noreturn]] void fail(const std::string& what) {
    const std::string why = CPLGetLastErrorMsg();
    throw std::runtime_error(what + (why.empty() ? "" : ": " + why));
}

GDALDatasetUniquePtr create(const char* driver_name, const std::string& path) {
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName(driver_name);
    if (driver == nullptr) {
        throw std::runtime_error(std::string("GDAL has no driver ") + driver_name);
    }
    GDALDatasetUniquePtr dataset{driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr)};
    if (!dataset) {
        fail("cannot create " + path);
    }
    return dataset;
}

void create_field(OGRLayer& layer, const Field& field) {
    OGRFieldDefn defn(field.name, OFTString);
    switch (field.type) {
        case FieldType::text:
            break;
        case FieldType::real:
            defn.SetType(OFTReal);
            break;
        case FieldType::integer:
            defn.SetType(OFTInteger);
            break;
        case FieldType::boolean:
            defn.SetType(OFTInteger);
            defn.SetSubType(OFSTBoolean);
            break;
        case FieldType::date:
            defn.SetType(OFTDate);
            break;
    }
    if (layer.CreateField(&defn) != OGRERR_NONE) {
        fail(std::string("cannot create field ") + field.name);
    }
}

OGRLayer* create_layer(GDALDataset& dataset,
                       const char* name,
                       OGRwkbGeometryType shape,
                       OGRSpatialReference* crs,
                       std::span<const Field> fields) {
    CPLStringList options;
    const std::string driver = dataset.GetDriver()->GetDescription();
    if (driver == "GeoJSON") {
        options.SetNameValue("RFC7946", "YES");
    } else if (driver == "GPKG") {
        options.SetNameValue("DESCRIPTION", "Invented data, written by make-sample");
    }
    OGRLayer* layer = dataset.CreateLayer(name, crs, shape, options.List());
    if (layer == nullptr) {
        fail(std::string("cannot create layer ") + name);
    }
    for (const Field& field : fields) {
        create_field(*layer, field);
    }
    return layer;
}

struct Fill {
    OGRFeature& feature;
    int field;
    void operator()(std::monostate /*none*/) const { feature.SetFieldNull(field); }
    void operator()(const std::string& s) const { feature.SetField(field, s.c_str()); }
    void operator()(double v) const { feature.SetField(field, v); }
    void operator()(int v) const { feature.SetField(field, v); }
    void operator()(bool v) const { feature.SetField(field, v ? 1 : 0); }
    void operator()(Day d) const { feature.SetField(field, date_text(d.day).c_str()); }
};

void put(OGRLayer& layer, const Row& row, const OGRGeometry* shape) {
    OGRFeature feature(layer.GetLayerDefn());
    for (std::size_t i = 0; i < row.size(); ++i) {
        std::visit(Fill{feature, static_cast<int>(i)}, row[i]);
    }
    if (shape != nullptr) {
        feature.SetGeometry(shape);
    }
    if (layer.CreateFeature(&feature) != OGRERR_NONE) {
        fail(std::string("cannot write to ") + layer.GetName());
    }
}

/// A CSV file, or nothing where the rows go to a layer.
class Table {
public:
    void open(const std::filesystem::path& path, std::span<const Field> fields) {
        path_ = path.string();
        file_.open(path_, std::ios::binary);
        put(csv_header(fields));
    }
    bool is_open() const { return file_.is_open(); }
    void put(const std::string& line) { file_ << line << '\n'; }
    void finish() {
        if (is_open()) {
            file_.close();
        }
        if (file_.fail()) {
            throw std::runtime_error("cannot write " + path_);
        }
    }

private:
    std::ofstream file_;
    std::string path_;
};

/// Removes what is to be replaced, file by file: a folder may hold other things.
void make_room(const std::filesystem::path& path, Format format, bool overwrite) {
    std::vector<std::filesystem::path> files{path};
    if (format == Format::flatgeobuf) {
        files = {path / "poles.fgb", path / "spans.fgb", path / "poles_nogeom.csv"};
    } else if (format == Format::geojson_csv) {
        files = {path / "poles.geojson", path / "spans.geojson"};
    }
    if (format != Format::gpkg) {
        files.push_back(path / "inspections.csv");
        files.push_back(path / "defects.csv");
    }
    for (const auto& file : files) {
        if (!std::filesystem::exists(file)) {
            continue;
        }
        if (!overwrite || !std::filesystem::is_regular_file(file)) {
            throw std::runtime_error(file.string() + " exists; --overwrite replaces it");
        }
        std::filesystem::remove(file);
    }
}

}  // namespace

struct Writer::Inside {
    Format format = Format::gpkg;
    OGRSpatialReference crs;
    std::unique_ptr<OGRCoordinateTransformation> to_degrees;  // geojson-csv only
    GDALDatasetUniquePtr first;                               // the GeoPackage, or the poles
    GDALDatasetUniquePtr second;  // the spans, where they are a file of their own
    OGRLayer* poles = nullptr;
    OGRLayer* spans = nullptr;
    OGRLayer* inspections = nullptr;
    OGRLayer* defects = nullptr;
    Table inspection_table, defect_table, lost_poles;
    std::filesystem::path folder;

    void open_gpkg(const std::string& path, OGRSpatialReference* reference);
    void open_folder(const std::string& path, OGRSpatialReference* reference);
    void write_pole(const Pole& pole);
    double convergence(Xy at) const;
    Defect with_true_azimuth(Defect defect,
                             const std::unordered_map<std::string, Xy>& places) const;
};

void Writer::Inside::open_gpkg(const std::string& path, OGRSpatialReference* reference) {
    first = create("GPKG", path);
    poles = create_layer(*first, "poles", wkbPoint, reference, pole_fields());
    spans = create_layer(*first, "spans", wkbLineString, reference, span_fields());
    inspections = create_layer(*first, "inspections", wkbNone, nullptr, inspection_fields());
    defects = create_layer(*first, "defects", wkbNone, nullptr, defect_fields());
    if (first->StartTransaction() != OGRERR_NONE) {
        fail("cannot start writing " + path);
    }
}

void Writer::Inside::open_folder(const std::string& path, OGRSpatialReference* reference) {
    folder = path;
    std::filesystem::create_directories(folder);
    const bool flat = format == Format::flatgeobuf;
    const char* driver = flat ? "FlatGeobuf" : "GeoJSON";
    const std::string ending = flat ? ".fgb" : ".geojson";
    first = create(driver, (folder / ("poles" + ending)).string());
    second = create(driver, (folder / ("spans" + ending)).string());
    poles = create_layer(*first, "poles", wkbPoint, reference, pole_fields());
    spans = create_layer(*second, "spans", wkbLineString, reference, span_fields());
    inspection_table.open(folder / "inspections.csv", inspection_fields());
    defect_table.open(folder / "defects.csv", defect_fields());
    if (!flat && reference != nullptr) {
        OGRSpatialReference degrees;
        degrees.importFromEPSG(4326);
        degrees.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
        to_degrees.reset(OGRCreateCoordinateTransformation(reference, &degrees));
    }
}

Writer::Writer(const std::string& path, Format format, const std::string& crs, bool overwrite)
    : inside_{std::make_unique<Inside>()} {
    Inside& in = *inside_;
    in.format = format;
    // Fixed, so that the same content gives the same bytes; syncing is the disk's own affair here.
    CPLSetConfigOption("OGR_CURRENT_DATE", "2026-11-01T00:00:00.000Z");
    CPLSetConfigOption("OGR_SQLITE_SYNCHRONOUS", "OFF");
    make_room(path, format, overwrite);
    if (!crs.empty() && in.crs.SetFromUserInput(crs.c_str()) != OGRERR_NONE) {
        fail("cannot read the coordinate system");
    }
    in.crs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    OGRSpatialReference* reference = crs.empty() ? nullptr : &in.crs;
    if (format == Format::gpkg) {
        in.open_gpkg(path, reference);
    } else {
        in.open_folder(path, reference);
    }
}

Writer::~Writer() = default;

void Writer::Inside::write_pole(const Pole& pole) {
    const Row row = row_of(pole);
    if (pole.has_point) {
        const OGRPoint point(pole.at.x, pole.at.y);
        put(*poles, row, &point);
    } else if (format != Format::flatgeobuf) {
        put(*poles, row, nullptr);
    } else {
        if (!lost_poles.is_open()) {
            lost_poles.open(folder / "poles_nogeom.csv", pole_fields());
        }
        lost_poles.put(csv_line(row));
    }
}

/// True azimuth less grid azimuth, degrees, from 22 m of meridian.
double Writer::Inside::convergence(Xy at) const {
    double x[2] = {at.x, at.x};
    double y[2] = {at.y - 11.0, at.y + 11.0};
    if (to_degrees->Transform(2, x, y) == 0) {
        return 0.0;
    }
    const double east = (x[1] - x[0]) * std::cos(0.5 * (y[0] + y[1]) / kDegreesPerRadian);
    return std::atan2(east, y[1] - y[0]) * kDegreesPerRadian;
}

Defect Writer::Inside::with_true_azimuth(Defect defect,
                                         const std::unordered_map<std::string, Xy>& places) const {
    const auto place = places.find(defect.pole_id);
    if (defect.azimuth_ref == "grid" && defect.azimuth && place != places.end()) {
        const double azimuth = *defect.azimuth + convergence(place->second);
        defect.azimuth = rounded(azimuth - 360.0 * std::floor(azimuth / 360.0), 0.01);
        defect.azimuth_ref = "true";
    }
    return defect;
}

void Writer::write(const Area& area) {
    Inside& in = *inside_;
    std::unordered_map<std::string, Xy> places;
    for (const Pole& pole : area.poles) {
        in.write_pole(pole);
        if (in.to_degrees) {
            places.emplace(pole.id, pole.at);
        }
    }
    for (const Span& span : area.spans) {
        OGRLineString line;
        for (const Xy& p : span.points) {
            line.addPoint(p.x, p.y);
        }
        put(*in.spans, row_of(span), &line);
    }
    for (const Inspection& inspection : area.inspections) {
        const Row row = row_of(inspection);
        if (in.inspections != nullptr) {
            put(*in.inspections, row, nullptr);
        } else {
            in.inspection_table.put(csv_line(row));
        }
    }
    for (const Defect& defect : area.defects) {
        if (in.defects != nullptr) {
            put(*in.defects, row_of(defect), nullptr);
        } else {
            in.defect_table.put(
                csv_line(row_of(in.to_degrees ? in.with_true_azimuth(defect, places) : defect)));
        }
    }
}

void Writer::finish() {
    Inside& in = *inside_;
    CPLErrorReset();
    if (in.format == Format::gpkg && in.first->CommitTransaction() != OGRERR_NONE) {
        fail("cannot complete the file");
    }
    in.first.reset();
    in.second.reset();
    if (CPLGetLastErrorType() >= CE_Failure) {
        fail("cannot complete the file");
    }
    in.inspection_table.finish();
    in.defect_table.finish();
    in.lost_poles.finish();
}

}  // namespace linewood::sample
