#include <optional>

#include "geo/io/gpkg_index.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

constexpr const char* kUndefinedCartesian =
    "LOCAL_CS[\"Undefined Cartesian SRS\",LOCAL_DATUM[\"unknown\",0],UNIT[\"metre\",1],"
    "AXIS[\"Easting\",EAST],AXIS[\"Northing\",NORTH]]";

CPLStringList layer_options(const LayerPlan& plan) {
    CPLStringList options;
    options.SetNameValue("SPATIAL_INDEX", "NO");
    options.SetNameValue("FID", plan.fid_name.c_str());
    options.SetNameValue("GEOMETRY_NAME", plan.geometry_name.c_str());
    if (!plan.description.empty()) {
        options.SetNameValue("DESCRIPTION", plan.description.c_str());
    }
    return options;
}

/// GeoPackage has a CRS of its own for "none stated, plane"; OGR would take "none stated, degrees".
LayerPlan with_crs(LayerPlan plan) {
    if (plan.geometry.kind != GeometryKind::none && plan.crs_wkt.empty()) {
        plan.crs_wkt = kUndefinedCartesian;
    }
    return plan;
}

std::string description_of(const Field& field) {
    if (field.unit.empty()) {
        return field.meaning;
    }
    return field.meaning + (field.meaning.empty() ? "[" : " [") + field.unit + "]";
}

/// The standard's schema extension: units and meanings of the columns in the file itself.
bool describe_columns(GDALDataset& dataset,
                      const std::string& table,
                      const std::vector<OutColumn>& columns) {
    std::string rows;
    for (const OutColumn& column : columns) {
        const std::string description = description_of(column.field);
        if (!description.empty()) {
            rows += rows.empty() ? "" : ",";
            rows += "(" + quoted_text(table) + "," + quoted_text(column.field.name) + "," +
                    quoted_text(column.field.name) + "," + quoted_text(description) + ")";
        }
    }
    if (rows.empty()) {
        return true;
    }
    const auto extension_row = [&](const std::string& name) {
        return run_sql(dataset,
                       "INSERT INTO gpkg_extensions SELECT " + quoted_text(name) +
                           ",NULL,'gpkg_schema',"
                           "'http://www.geopackage.org/spec121/#extension_schema','read-write' "
                           "WHERE NOT EXISTS (SELECT 1 FROM gpkg_extensions WHERE table_name = " +
                           quoted_text(name) + ")");
    };
    return create_extensions_table(dataset) &&
           run_sql(dataset,
                   "CREATE TABLE IF NOT EXISTS gpkg_data_columns (table_name TEXT NOT NULL,"
                   "column_name TEXT NOT NULL,name TEXT,title TEXT,description TEXT,"
                   "mime_type TEXT,constraint_name TEXT,CONSTRAINT pk_gdc PRIMARY KEY "
                   "(table_name, column_name),CONSTRAINT gdc_tn UNIQUE (table_name, name))") &&
           run_sql(dataset,
                   "CREATE TABLE IF NOT EXISTS gpkg_data_column_constraints ("
                   "constraint_name TEXT NOT NULL,constraint_type TEXT NOT NULL,value TEXT,"
                   "min NUMERIC,min_is_inclusive BOOLEAN,max NUMERIC,max_is_inclusive BOOLEAN,"
                   "description TEXT,CONSTRAINT gdcc_ntv UNIQUE (constraint_name,"
                   "constraint_type, value))") &&
           run_sql(dataset,
                   "INSERT OR REPLACE INTO gpkg_data_columns (table_name,column_name,title,"
                   "description) VALUES " +
                       rows) &&
           extension_row("gpkg_data_columns") && extension_row("gpkg_data_column_constraints");
}

class GpkgLayer final : public LayerSink {
public:
    GpkgLayer(GDALDataset& dataset,
              const LayerPlan& plan,
              const OutputOptions& options,
              std::string shown)
        : LayerSink{with_crs(plan)},
          dataset_{dataset},
          shown_{std::move(shown)},
          columns_{out_columns(plan_, OutputFormat::geopackage)},
          indexed_{options.spatial_index && plan.geometry.kind != GeometryKind::none} {
        file_.emplace(
            dataset, plan_, columns_, OutputFormat::geopackage, layer_options(plan_), shown_);
        declared_ = wkbFlatten(ogr_type(plan_.geometry));
    }

    void close() override {
        ErrorCollector errors;
        if (file_->layer().SyncToDisk() != OGRERR_NONE || errors.failed()) {
            throw_gdal_error(shown_, plan_.name, "writing", errors);
        }
        if (indexed_ &&
            !build_gpkg_index(dataset_, plan_.name, plan_.fid_name, plan_.geometry_name, boxes_)) {
            throw_gdal_error(shown_, plan_.name, "building the spatial index", errors);
        }
        if (!describe_columns(dataset_, plan_.name, columns_)) {
            throw_gdal_error(shown_, plan_.name, "describing the columns", errors);
        }
        if (mixed_ && !run_sql(dataset_,
                               "UPDATE gpkg_geometry_columns SET geometry_type_name = 'GEOMETRY' "
                               "WHERE table_name = " +
                                   quoted_text(plan_.name))) {
            throw_gdal_error(shown_, plan_.name, "stating the geometry type", errors);
        }
    }

    void drop() noexcept override { file_.reset(); }
    const std::vector<OutColumn>& columns() const override { return columns_; }

    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        if (file_ && file_->renumbered() > 0) {
            notes.push_back(
                {plan_.name,
                 plan_.fid_name,
                 std::to_string(file_->renumbered()) +
                     " rows had a FID that another row has already; they got new ones"});
        }
    }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        OGREnvelope box;
        const bool boxed = indexed_ && geometry && geometry->IsEmpty() == 0;
        if (boxed) {
            geometry->getEnvelope(&box);
        }
        if (geometry && declared_ != wkbUnknown &&
            wkbFlatten(geometry->getGeometryType()) != declared_) {
            mixed_ = true;
        }
        const std::int64_t fid = file_->write(plan_, input, std::move(geometry), fid_for(input));
        if (boxed) {
            boxes_.push_back(indexed_box(fid, box.MinX, box.MaxX, box.MinY, box.MaxY));
        }
    }

private:
    GDALDataset& dataset_;
    std::string shown_;
    std::vector<OutColumn> columns_;
    std::optional<OgrLayerFile> file_;
    std::vector<IndexedBox> boxes_;
    OGRwkbGeometryType declared_ = wkbUnknown;
    bool indexed_;
    bool mixed_ = false;  // a geometry of another type than the declared one came
};

}  // namespace

std::unique_ptr<LayerSink> make_gpkg_layer(GDALDataset& dataset,
                                           const LayerPlan& plan,
                                           const OutputOptions& options,
                                           const std::string& shown) {
    return std::make_unique<GpkgLayer>(dataset, plan, options, shown);
}

}  // namespace linewood
