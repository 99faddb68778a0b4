#include "geo/io/ogr_file.h"

namespace linewood {

const char* driver_of(OutputFormat format) {
    switch (format) {
        case OutputFormat::geopackage:
            return "GPKG";
        case OutputFormat::flatgeobuf:
            return "FlatGeobuf";
        case OutputFormat::geojson:
            return "GeoJSON";
        case OutputFormat::shapefile:
            return "ESRI Shapefile";
        case OutputFormat::csv:
            return "CSV";
        case OutputFormat::geojsonl:
            return "GeoJSONSeq";
        case OutputFormat::gml:
            return "GML";
        case OutputFormat::kml:
            return "KML";
        case OutputFormat::xlsx:
            return "XLSX";
        case OutputFormat::ods:
            return "ODS";
        case OutputFormat::postgis:
            return "PostgreSQL";
    }
    return "";
}

SrsPtr srs_from_wkt(const std::string& wkt, const std::string& path, const std::string& layer) {
    if (wkt.empty()) {
        return nullptr;
    }
    ErrorCollector errors;
    SrsPtr srs{new OGRSpatialReference};
    srs->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    if (srs->SetFromUserInput(wkt.c_str()) != OGRERR_NONE) {
        throw_gdal_error(path, layer, "reading the coordinate system", errors);
    }
    return srs;
}

GDALDatasetUniquePtr create_dataset(const std::filesystem::path& path,
                                    OutputFormat format,
                                    const CPLStringList& options,
                                    const std::string& shown) {
    start_gdal();
    ErrorCollector errors;
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName(driver_of(format));
    if (driver == nullptr) {
        throw DataError{shown,
                        "",
                        std::string{"this GDAL cannot write "} + driver_of(format) +
                            "; choose another --format"};
    }
    GDALDatasetUniquePtr dataset{
        driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, options.List())};
    if (!dataset || errors.failed()) {
        throw_gdal_error(shown, "", "creating the output", errors);
    }
    return dataset;
}

OgrLayerFile::OgrLayerFile(GDALDataset& dataset,
                           const LayerPlan& plan,
                           std::vector<OutColumn>& columns,
                           OutputFormat format,
                           const CPLStringList& options,
                           std::string shown)
    : shown_{std::move(shown)},
      format_{format},
      columns_{columns},
      layer_{create_layer(dataset, plan, options)},
      feature_{OGRFeature::CreateFeature(layer_.GetLayerDefn())} {}

OGRLayer& OgrLayerFile::create_layer(GDALDataset& dataset,
                                     const LayerPlan& plan,
                                     const CPLStringList& options) {
    const SrsPtr srs = srs_from_wkt(plan.crs_wkt, shown_, plan.name);
    ErrorCollector errors;
    CPLStringList own_options{options};  // OGR asks for a list it may change
    OGRLayer* layer = dataset.CreateLayer(
        plan.name.c_str(), srs.get(), ogr_type(plan.geometry), own_options.List());
    if (layer == nullptr) {
        throw_gdal_error(shown_, plan.name, "creating the layer", errors);
    }
    first_field_ = layer->GetLayerDefn()->GetFieldCount();
    for (const OutColumn& column : columns_) {
        const auto field = ogr_field(column, format_);
        const int before = layer->GetLayerDefn()->GetFieldCount();
        if (layer->CreateField(field.get(), FALSE) != OGRERR_NONE || errors.failed() ||
            layer->GetLayerDefn()->GetFieldCount() != before + 1 ||
            // Values are set as the type they are to have.
            layer->GetLayerDefn()->GetFieldDefn(before)->GetType() != field->GetType()) {
            throw_gdal_error(
                shown_, plan.name, "creating the column '" + column.full_name + "'", errors);
        }
    }
    return *layer;
}

void OgrLayerFile::create(std::int64_t fid) {
    ErrorCollector errors;
    feature_->SetFID(fid);
    OGRErr result = layer_.CreateFeature(feature_.get());
    if (result != OGRERR_NONE && fid != OGRNullFID &&
        errors.failure_mentions("UNIQUE constraint")) {
        errors.clear();
        ++renumbered_;
        feature_->SetFID(OGRNullFID);
        result = layer_.CreateFeature(feature_.get());
    }
    if (result != OGRERR_NONE || errors.failed()) {
        throw_gdal_error(
            shown_, layer_.GetName(), "writing row " + std::to_string(rows_ + 1), errors);
    }
}

std::int64_t OgrLayerFile::write(const LayerPlan& plan,
                                 const RowInput& input,
                                 OGRGeometryUniquePtr geometry,
                                 std::int64_t fid) {
    OGRFeature& feature = *feature_;
    feature.Reset();
    for_each_value(plan, input, value_, [&](std::size_t i, const RawValue& value) {
        set_field(feature, first_field_ + static_cast<int>(i), columns_[i], value);
    });
    if (geometry) {
        feature.SetGeometryDirectly(geometry.release());
    }
    create(fid);
    ++rows_;
    return feature.GetFID();
}

}  // namespace linewood
