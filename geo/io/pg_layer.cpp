#include <atomic>
#include <optional>

#include "geo/io/pg_file.h"
#include "geo/io/sqlite_file.h"
#include "geo/io/vector_layers.h"

namespace linewood {
namespace {

std::string comment_on(const std::string& table, const OutColumn& column) {
    const Field& field = column.field;
    const std::string unit = field.unit.empty() ? "" : "[" + field.unit + "]";
    const std::string text =
        field.meaning + (field.meaning.empty() || unit.empty() ? "" : " ") + unit;
    return text.empty() ? ""
                        : "COMMENT ON COLUMN " + table + "." + quoted_name(column.field.name) +
                              " IS " + quoted_text(text);
}

/// A table whose rows come by COPY.
class PgLayer final : public LayerSink {
public:
    PgLayer(PgFile& file, const LayerPlan& plan)
        : LayerSink{plan}, file_{file}, columns_{out_columns(plan_, OutputFormat::postgis)} {
        file_.make_room(plan_.name);
        CPLStringList options;
        options.SetNameValue("LAUNDER", "NO");
        options.SetNameValue("GEOMETRY_NAME", plan_.geometry_name.c_str());
        options.SetNameValue("FID", plan_.fid_name.c_str());
        options.SetNameValue("SPATIAL_INDEX", "NONE");  // built at once, after the rows
        if (!plan_.description.empty()) {
            options.SetNameValue("DESCRIPTION", plan_.description.c_str());
        }
        LayerPlan open = plan_;
        if (open.geometry.kind != GeometryKind::none) {
            // Single features may be of another kind than the layer states.
            open.geometry = {GeometryKind::mixed, false, open.geometry.has_z, open.geometry.has_m};
        }
        rows_.emplace(
            file_.dataset(), open, columns_, OutputFormat::postgis, options, file_.shown());
    }

    void close() override {
        ErrorCollector errors;
        rows_->layer().SyncToDisk();  // the end of COPY
        if (errors.failed()) {
            throw_gdal_error(file_.shown(), plan_.name, "writing", errors);
        }
        const std::string table = file_.table_of(plan_.name);
        if (plan_.geometry.kind != GeometryKind::none && plan_.spatial_index) {
            file_.run("CREATE INDEX ON " + table + " USING gist (" +
                      quoted_name(plan_.geometry_name) + ")");
        }
        for (const std::string& column : plan_.indexed) {
            file_.run("CREATE INDEX ON " + table + " (" + quoted_name(column) + ")");
        }
        for (const OutColumn& column : columns_) {
            if (const std::string sql = comment_on(table, column); !sql.empty()) {
                file_.run(sql);
            }
        }
        check_count(count(),
                    std::stoll(file_.ask("SELECT count(*) FROM " + table)),
                    file_.shown(),
                    plan_.name);
    }
    void drop() noexcept override { rows_.reset(); }
    const std::vector<OutColumn>& columns() const override { return columns_; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr geometry) override {
        rows_->write(plan_, input, std::move(geometry), OGRNullFID);
    }

private:
    PgFile& file_;
    std::vector<OutColumn> columns_;
    std::optional<OgrLayerFile> rows_;
};

const char* type_of(Storage storage) {
    switch (storage) {
        case Storage::text:
            return "text";
        case Storage::integer:
            return "integer";
        case Storage::integer64:
            return "bigint";
        case Storage::real:
            return "double precision";
        case Storage::boolean:
            return "boolean";
        case Storage::date:
            return "date";
        case Storage::datetime:
            return "timestamptz";
        case Storage::binary:
            return "bytea";
    }
    return "text";
}

/// A table that is there: the columns are gathered beside it, and put in at the end, when nobody reads it any more.
class PgColumns final : public LayerSink {
public:
    PgColumns(PgFile& file, const LayerPlan& plan)
        : LayerSink{plan},
          file_{file},
          gathered_{gathering(plan_)},
          columns_{out_columns(gathered_, OutputFormat::postgis)} {
        if (plan_.source.fid_name.empty()) {
            throw DataError{file_.shown(),
                            plan_.name,
                            "the table has no primary key by which its rows could be found again; "
                            "give it one"};
        }
        CPLStringList options;
        options.SetNameValue("LAUNDER", "NO");
        options.SetNameValue("TEMPORARY", "YES");
        rows_.emplace(
            file_.dataset(), gathered_, columns_, OutputFormat::postgis, options, file_.shown());
    }

    void close() override {
        ErrorCollector errors;
        rows_->layer().SyncToDisk();
        if (errors.failed()) {
            throw_gdal_error(file_.shown(), plan_.name, "writing", errors);
        }
        const std::string table = file_.table_of(plan_.name);
        for (const CarriedColumn& carried : plan_.carried) {
            const std::string& before = plan_.source.fields[carried.source].name;
            if (before != carried.name) {
                file_.at_end("ALTER TABLE " + table + " RENAME COLUMN " + quoted_name(before) +
                             " TO " + quoted_name(carried.name));
            }
        }
        std::string set;
        for (std::size_t i = 0; i + 1 < columns_.size(); ++i) {
            const std::string name = quoted_name(columns_[i].field.name);
            file_.at_end("ALTER TABLE " + table + " ADD COLUMN IF NOT EXISTS " + name + " " +
                         type_of(columns_[i].storage));
            set += (set.empty() ? "" : ",") + name + "=n." + name;
            if (const std::string sql = comment_on(table, columns_[i]); !sql.empty()) {
                file_.at_end(sql);
            }
        }
        file_.at_end("UPDATE " + table + " t SET " + set + " FROM pg_temp." +
                     quoted_name(gathered_.name) + " n WHERE t." +
                     quoted_name(plan_.source.fid_name) + "=n." + quoted_name(kRow));
        file_.at_end("DROP TABLE pg_temp." + quoted_name(gathered_.name));
    }
    void drop() noexcept override { rows_.reset(); }
    const std::vector<OutColumn>& columns() const override { return columns_; }

protected:
    void write(const RowInput& input, OGRGeometryUniquePtr /*geometry*/) override {
        cells_.assign(input.added.begin(), input.added.end());
        cells_.emplace_back(input.rows->fid(input.row));
        rows_->write(gathered_, {nullptr, 0, cells_}, nullptr, OGRNullFID);
    }

private:
    static constexpr const char* kRow = "linewood_row";

    static LayerPlan gathering(const LayerPlan& plan) {
        LayerPlan gathered;
        static std::atomic<int> serial{0};
        gathered.name = "linewood_new_" + std::to_string(++serial);
        gathered.added = plan.added;
        Field row;
        row.name = kRow;
        row.type = FieldType::integer64;
        gathered.added.push_back(std::move(row));
        return gathered;
    }

    PgFile& file_;
    LayerPlan gathered_;
    std::vector<OutColumn> columns_;
    std::optional<OgrLayerFile> rows_;
    std::vector<Cell> cells_;
};

}  // namespace

std::unique_ptr<LayerSink> make_pg_layer(PgFile& file, const LayerPlan& plan) {
    return std::make_unique<PgLayer>(file, plan);
}

std::unique_ptr<LayerSink> make_pg_columns(PgFile& file, const LayerPlan& plan) {
    return std::make_unique<PgColumns>(file, plan);
}

}  // namespace linewood
