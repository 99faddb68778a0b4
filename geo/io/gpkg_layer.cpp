#include <cstdlib>
#include <optional>
#include <set>

#include "geo/io/box_store.h"
#include "geo/io/gpkg_blob.h"
#include "geo/io/gpkg_file.h"
#include "geo/io/gpkg_index.h"
#include "geo/io/gpkg_notes.h"
#include "geo/io/gpkg_value.h"
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

/// Name of a geometry type that the standard has in an extension; empty for the core types.
std::string extension_type(OGRwkbGeometryType type) {
    switch (wkbFlatten(type)) {
        case wkbPoint:
        case wkbLineString:
        case wkbPolygon:
        case wkbMultiPoint:
        case wkbMultiLineString:
        case wkbMultiPolygon:
        case wkbGeometryCollection:
            return "";
        default:
            return OGRToOGCGeomType(wkbFlatten(type));
    }
}

/// A layer: laid out by OGR, its rows written by SQLite.
class GpkgLayer final : public LayerSink {
public:
    GpkgLayer(GpkgFile& file, const LayerPlan& plan, const OutputOptions& options)
        : LayerSink{with_crs(plan)},
          file_{file},
          columns_{out_columns(plan_, OutputFormat::geopackage)},
          declared_{wkbFlatten(ogr_type(plan_.geometry))},
          has_geometry_{plan.geometry.kind != GeometryKind::none},
          indexed_{options.spatial_index && plan.spatial_index && has_geometry_} {
        const OgrLayerFile layout{file.dataset(),
                                  plan_,
                                  columns_,
                                  OutputFormat::geopackage,
                                  layer_options(plan_),
                                  file.shown()};
    }

    void close() override {
        if (!rows_) {
            begin_rows();
        }
        rows_.reset();
        SqliteFile& db = file_.rows();
        const std::string table = quoted_text(plan_.name);
        db.run("UPDATE gpkg_ogr_contents SET feature_count = " + std::to_string(count()) +
               " WHERE table_name = " + table);
        for (const std::string& trigger : count_triggers_) {
            db.run(trigger);
        }
        if (box_.IsInit()) {
            SqliteInsert extent{db,
                                "UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, "
                                "max_y = ? WHERE table_name = " +
                                    table};
            extent.bind(1, box_.MinX);
            extent.bind(2, box_.MinY);
            extent.bind(3, box_.MaxX);
            extent.bind(4, box_.MaxY);
            extent.step();
        }
        if (indexed_) {
            std::vector<IndexedBox> boxes = boxes_.take();
            build_gpkg_index(db, plan_.name, plan_.fid_name, plan_.geometry_name, boxes);
        }
        for (const std::string& column : plan_.indexed) {
            index_column(db, plan_.name, column);
        }
        describe_columns(db, plan_.name, columns_);
        state_geometry_types(db);
    }

    void pause() override { rows_.reset(); }
    void drop() noexcept override { rows_.reset(); }
    const std::vector<OutColumn>& columns() const override { return columns_; }

    void add_notes(std::vector<OutputNote>& notes) const override {
        LayerSink::add_notes(notes);
        if (renumbered_ > 0) {
            notes.push_back(
                {plan_.name,
                 plan_.fid_name,
                 std::to_string(renumbered_) +
                     " rows had a FID that another row has already; they got new ones"});
        }
    }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        if (!rows_) {
            begin_rows();
        }
        int parameter = 2;
        if (has_geometry_) {
            bind_geometry(parameter++, geometry.get());
        }
        // The last value is still bound when the next one is read: each has its own place.
        std::size_t i = 0;
        for_each_value(plan_, input, values_, [&](std::size_t column, const RawValue& value) {
            bind_value(*rows_, parameter++, columns_[column], value, texts_[i++]);
        });
        const std::int64_t fid = insert(fid_for(input));
        if (indexed_ && geometry && geometry->IsEmpty() == 0) {
            boxes_.add(
                indexed_box(fid, row_box_.MinX, row_box_.MaxX, row_box_.MinY, row_box_.MaxY));
        }
    }

private:
    void begin_rows() {
        SqliteFile& db = file_.rows();
        const std::string table = quoted_text(plan_.name);
        // OGR counts features by triggers; they are put aside while the rows are written.
        for (const char* what : {"insert", "delete"}) {
            const std::string name =
                std::string{"trigger_"} + what + "_feature_count_" + plan_.name;
            const std::string sql =
                db.ask("SELECT sql FROM sqlite_master WHERE type = 'trigger' AND name = " +
                       quoted_text(name));
            if (!sql.empty()) {
                count_triggers_.push_back(sql);
                db.run("DROP TRIGGER " + quoted_name(name));
            }
        }
        if (has_geometry_) {
            srs_id_ = static_cast<std::int32_t>(std::strtol(
                db.ask("SELECT srs_id FROM gpkg_geometry_columns WHERE table_name = " + table)
                    .c_str(),
                nullptr,
                10));
        }
        std::string names = quoted_name(plan_.fid_name);
        std::string places = "?";
        const auto add = [&](const std::string& name) {
            names += "," + quoted_name(name);
            places += ",?";
        };
        if (has_geometry_) {
            add(plan_.geometry_name);
        }
        for (const OutColumn& column : columns_) {
            add(column.field.name);
        }
        rows_.emplace(
            db,
            "INSERT INTO " + quoted_name(plan_.name) + " (" + names + ") VALUES (" + places + ")");
        if (indexed_ && plan_.expected_rows > 0) {
            boxes_.reserve(static_cast<std::size_t>(plan_.expected_rows));
        }
        texts_.resize(columns_.size());
        values_.resize(columns_.size());
    }

    void bind_geometry(int parameter, const OGRGeometry* geometry) {
        if (geometry == nullptr) {
            rows_->bind_null(parameter);
            return;
        }
        write_gpkg_blob(*geometry, srs_id_, blob_);
        rows_->bind_bytes(parameter, blob_);
        if (geometry->IsEmpty() == 0) {
            geometry->getEnvelope(&row_box_);
            box_.Merge(row_box_);
        }
        mixed_z_ = mixed_z_ || (geometry->Is3D() != 0) != plan_.geometry.has_z;
        mixed_m_ = mixed_m_ || (geometry->IsMeasured() != 0) != plan_.geometry.has_m;
        const OGRwkbGeometryType type = wkbFlatten(geometry->getGeometryType());
        if (type != declared_) {
            mixed_ = mixed_ || declared_ != wkbUnknown;
            if (std::string name = extension_type(type); !name.empty()) {
                extension_types_.insert(std::move(name));
            }
        }
    }

    std::int64_t insert(std::int64_t fid) {
        if (fid != OGRNullFID) {
            rows_->bind(1, fid);
            if (rows_->step()) {
                return fid;
            }
            ++renumbered_;
        }
        rows_->bind_null(1);
        if (!rows_->step()) {
            file_.rows().fail("writing row " + std::to_string(count() + 1));
        }
        return sqlite3_last_insert_rowid(file_.rows().handle());
    }

    void state_geometry_types(SqliteFile& db) {
        const std::string table = quoted_text(plan_.name);
        if (mixed_) {
            db.run(
                "UPDATE gpkg_geometry_columns SET geometry_type_name = 'GEOMETRY' "
                "WHERE table_name = " +
                table);
            // The standard wants the same type in the table's own definition, which SQLite's
            // ALTER TABLE cannot change.
            const std::string column = quoted_name(plan_.geometry_name) + " ";
            db.run("PRAGMA writable_schema = ON");
            db.run("UPDATE sqlite_master SET sql = replace(sql, " +
                   quoted_text(column + OGRToOGCGeomType(declared_)) + ", " +
                   quoted_text(column + "GEOMETRY") + ") WHERE type = 'table' AND name = " + table);
            db.run("PRAGMA writable_schema = OFF");
        }
        // 2 = "may have": some geometries are as declared, some are not.
        for (const auto& [mixed, dimension] : {std::pair{mixed_z_, "z"}, {mixed_m_, "m"}}) {
            if (mixed) {
                db.run(std::string{"UPDATE gpkg_geometry_columns SET "} + dimension +
                       " = 2 WHERE table_name = " + table);
            }
        }
        for (const std::string& type : extension_types_) {
            create_extensions_table(db);
            db.run("INSERT OR IGNORE INTO gpkg_extensions VALUES (" + table + "," +
                   quoted_text(plan_.geometry_name) + "," + quoted_text("gpkg_geom_" + type) +
                   ",'http://www.geopackage.org/spec120/#extension_geometry_types','read-write')");
        }
    }

    GpkgFile& file_;
    std::vector<OutColumn> columns_;
    std::optional<SqliteInsert> rows_;
    std::vector<std::string> count_triggers_;
    std::vector<RawValue> values_;
    std::vector<std::string> texts_;  ///< printed values, until the row is in
    std::string blob_;
    BoxStore boxes_;
    OGREnvelope row_box_;
    OGREnvelope box_;
    std::set<std::string> extension_types_;
    OGRwkbGeometryType declared_;
    std::int64_t renumbered_ = 0;
    std::int32_t srs_id_ = 0;
    bool has_geometry_;
    bool indexed_;
    bool mixed_z_ = false;
    bool mixed_m_ = false;
    bool mixed_ = false;  // a geometry of another type than the declared one came
};

}  // namespace

std::unique_ptr<LayerSink> make_gpkg_layer(GpkgFile& file,
                                           const LayerPlan& plan,
                                           const OutputOptions& options) {
    return std::make_unique<GpkgLayer>(file, plan, options);
}

}  // namespace linewood
