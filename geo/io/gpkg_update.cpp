#include <optional>

#include "geo/io/gpkg_file.h"
#include "geo/io/gpkg_notes.h"
#include "geo/io/gpkg_value.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

/// A layer that is there already: its rows get the added columns, found by their FID.
class GpkgColumns final : public LayerSink {
public:
    GpkgColumns(GpkgFile& file, const LayerPlan& plan)
        : LayerSink{plan}, file_{file}, columns_{out_columns(plan, OutputFormat::geopackage)} {
        columns_.erase(columns_.begin(),
                       columns_.begin() + static_cast<std::ptrdiff_t>(plan.carried.size()));
        lay_out();
    }

    void close() override {
        if (!rows_) {
            begin_rows();
        }
        rows_.reset();
        SqliteFile& db = file_.rows();
        describe_columns(db, plan_.name, columns_);
        for (const std::string& column : plan_.indexed) {
            index_column(db, plan_.name, column);
        }
        db.run("UPDATE gpkg_contents SET last_change = " + file_.now() +
               " WHERE lower(table_name) = lower(" + quoted_text(plan_.name) + ")");
    }
    void pause() override { rows_.reset(); }
    void drop() noexcept override { rows_.reset(); }
    const std::vector<OutColumn>& columns() const override { return columns_; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr /*geometry*/) override {
        if (!rows_) {
            begin_rows();
        }
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            set_from_cell(values_[i], input.added[i]);
            bind_value(*rows_, static_cast<int>(i) + 1, columns_[i], values_[i], texts_[i]);
        }
        rows_->bind(static_cast<int>(columns_.size()) + 1, input.rows->fid(input.row));
        if (!rows_->step()) {
            file_.rows().fail("writing row " + std::to_string(count() + 1));
        }
    }

private:
    /// The columns as OGR lays them out, so that the file's own notes about them are kept true.
    void lay_out() {
        GDALDataset& dataset = file_.dataset();
        ErrorCollector errors;
        OGRLayer* layer = dataset.GetLayerByName(plan_.name.c_str());
        if (layer == nullptr || layer->TestCapability(OLCCreateField) == 0) {
            throw DataError{file_.shown(),
                            plan_.name,
                            "no columns can be added to this layer (is it a view?); write to "
                            "another place with --out"};
        }
        for (const CarriedColumn& carried : plan_.carried) {
            rename(*layer, plan_.source.fields[carried.source].name, carried.name, errors);
        }
        for (const OutColumn& column : columns_) {
            add(*layer, column, errors);
        }
        if (layer->SyncToDisk() != OGRERR_NONE || errors.failed()) {
            throw_gdal_error(file_.shown(), plan_.name, "adding columns", errors);
        }
    }

    void rename(OGRLayer& layer,
                const std::string& from,
                const std::string& to,
                const ErrorCollector& errors) {
        const int at = from == to ? -1 : layer.GetLayerDefn()->GetFieldIndex(from.c_str());
        if (at < 0) {
            return;
        }
        OGRFieldDefn renamed{layer.GetLayerDefn()->GetFieldDefn(at)};
        renamed.SetName(to.c_str());
        if (layer.AlterFieldDefn(at, &renamed, ALTER_NAME_FLAG) != OGRERR_NONE) {
            throw_gdal_error(file_.shown(), plan_.name, "renaming the column " + from, errors);
        }
    }

    void add(OGRLayer& layer, const OutColumn& column, const ErrorCollector& errors) {
        const auto field = ogr_field(column, OutputFormat::geopackage);
        const int at = layer.GetLayerDefn()->GetFieldIndex(column.field.name.c_str());
        if (at >= 0) {  // of an earlier run
            if (layer.GetLayerDefn()->GetFieldDefn(at)->GetType() == field->GetType()) {
                return;
            }
            layer.DeleteField(at);
        }
        if (layer.CreateField(field.get(), FALSE) != OGRERR_NONE) {
            throw_gdal_error(
                file_.shown(), plan_.name, "adding the column " + column.field.name, errors);
        }
    }

    void begin_rows() {
        SqliteFile& db = file_.rows();
        // The owner's triggers keep watch over the owner's changes; some need functions that only their program
        // has. No geometry changes, so that the index stays true without.
        // NOLINTNEXTLINE(cppcoreguidelines-pro-type-vararg)
        sqlite3_db_config(db.handle(), SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
        std::string set;
        for (const OutColumn& column : columns_) {
            set += (set.empty() ? "" : ",") + quoted_name(column.field.name) + "=?";
        }
        const std::string fid = plan_.source.fid_name;
        rows_.emplace(db,
                      "UPDATE " + quoted_name(plan_.name) + " SET " + set + " WHERE " +
                          quoted_name(fid) + "=?");
        values_.resize(columns_.size());
        texts_.resize(columns_.size());
    }

    GpkgFile& file_;
    std::vector<OutColumn> columns_;
    std::optional<SqliteInsert> rows_;
    std::vector<RawValue> values_;
    std::vector<std::string> texts_;
};

}  // namespace

std::unique_ptr<LayerSink> make_gpkg_columns(GpkgFile& file, const LayerPlan& plan) {
    return std::make_unique<GpkgColumns>(file, plan);
}

}  // namespace linewood
