#include "geo/io/row_check.h"

#include <algorithm>
#include <limits>
#include <map>
#include <optional>

#include <sqlite3.h>

#include "geo/io/csv_lines.h"
#include "geo/io/csv_places.h"
#include "geo/io/nul_text.h"
#include "geo/io/row_stream.h"
#include "geo/io/sheet_places.h"
#include "geo/io/sqlite_file.h"
#include "geo/io/value_text.hpp"
#include "geo/io/written_check.h"

namespace linewood {
namespace {

constexpr std::size_t kShown = 400;

std::vector<std::size_t> rows_without_shape(const BatchRows& rows) {
    std::vector<std::size_t> without;
    for (std::size_t row = 0; row < rows.size(); ++row) {
        if (!rows.geometry(row).present()) {
            without.push_back(row);
        }
    }
    return without;
}

struct FidRange {
    std::int64_t least = std::numeric_limits<std::int64_t>::max();
    std::int64_t most = std::numeric_limits<std::int64_t>::min();

    void take(std::int64_t fid) {
        least = std::min(least, fid);
        most = std::max(most, fid);
    }
};

/// A question about the rows of a range of FIDs, which are its first column.
class RangeQuery {
public:
    RangeQuery(sqlite3* db, const std::string& sql) {
        sqlite3_stmt* statement = nullptr;
        sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr);
        statement_.reset(statement);
    }

    bool is_open() const { return statement_ != nullptr; }
    void begin(FidRange range) {
        sqlite3_reset(statement_.get());
        sqlite3_bind_int64(statement_.get(), 1, range.least);
        sqlite3_bind_int64(statement_.get(), 2, range.most);
    }
    bool next() { return sqlite3_step(statement_.get()) == SQLITE_ROW; }
    /// So that nothing is held open.
    void end() { sqlite3_reset(statement_.get()); }
    std::int64_t fid() const { return sqlite3_column_int64(statement_.get(), 0); }
    bool is_null(int column) const {
        return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
    }
    std::string text(int column) const {
        const unsigned char* bytes = sqlite3_column_text(statement_.get(), column);
        const auto size = static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column));
        // SQLite hands text out as unsigned char.
        return bytes == nullptr ? std::string{}
                                : std::string{reinterpret_cast<const char*>(bytes), size};
    }

private:
    struct Finalize {
        void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
    };
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

class GpkgRowCheck final : public RowCheck {
public:
    GpkgRowCheck(sqlite3* db,
                 const std::string& table,
                 const LayerSchema& schema,
                 const ReadOptions& options) {
        const std::string fid = schema.fid_name.empty() ? "rowid" : quoted_name(schema.fid_name);
        const std::string from =
            " FROM " + quoted_name(table) + " WHERE " + fid + " BETWEEN ?1 AND ?2 AND ";
        if (schema.has_geometry() && options.geometry) {
            const std::string shape = quoted_name(schema.geometry_name);
            // The beginning will do to find it.
            shapes_.emplace(db,
                            "SELECT " + fid + ", CASE typeof(" + shape +
                                ") WHEN 'blob' THEN hex(substr(" + shape + ",1,40)) ELSE substr(" +
                                shape + ",1,80) END" + from + shape + " IS NOT NULL");
        }
        std::string columns;
        std::string any;
        for (std::size_t i = 0; i < schema.fields.size(); ++i) {
            if (schema.fields[i].type == FieldType::text && is_wanted(options, i)) {
                const std::string name = quoted_name(schema.fields[i].name);
                texts_of_.push_back({i, schema.fields[i].name});
                columns += "," + name;
                any += (any.empty() ? "(" : " OR ") + ("instr(" + name + ",char(0))>0");
            }
        }
        if (!any.empty()) {
            texts_.emplace(db, "SELECT " + fid + columns + from + any + ")");
        }
        ask_typed(db, fid, from, schema, options);
    }

    bool cuts_text(const BatchRows& rows) override {
        if (!texts_ || !texts_->is_open() || rows.size() == 0) {
            return false;
        }
        FidRange range;
        for (std::size_t row = 0; row < rows.size(); ++row) {
            range.take(rows.fid(row));
        }
        texts_->begin(range);
        const bool any = texts_->next();
        texts_->end();
        return any;
    }

    void check(BatchRows& rows, std::int64_t /*first_row*/) override {
        if (shapes_ && shapes_->is_open()) {
            check_shapes(rows);
        }
        auto* features = dynamic_cast<FeatureRows*>(&rows);
        if (features == nullptr || features->size() == 0) {
            return;
        }
        if (texts_ && texts_->is_open()) {
            mend_texts(*features);
        }
        if (typed_ && typed_->is_open()) {
            mend_typed(*features);
        }
    }

private:
    struct TextColumn {
        std::size_t index;
        std::string name;
    };
    using TypedColumn = WrittenCheck::TypedColumn;

    /// SQL that holds where a value is none of its column's type, so that OGR makes another of it; of days where
    /// there is one at all. Empty for other types.
    static std::string is_odd(const std::string& name, FieldType type) {
        const std::string stored = "typeof(" + name + ")";
        switch (type) {
            case FieldType::boolean:
                return stored + "<>'null' AND (" + stored + "<>'integer' OR " + name +
                       " NOT IN (0,1))";
            case FieldType::integer:
                return stored + "<>'null' AND (" + stored + "<>'integer' OR " + name +
                       " NOT BETWEEN -2147483648 AND 2147483647)";
            case FieldType::integer64:
                return stored + " NOT IN ('integer','null')";
            case FieldType::real:
                return stored + " NOT IN ('real','integer','null')";
            case FieldType::date:
            case FieldType::datetime:
                return stored + "<>'null'";
            default:
                return {};
        }
    }

    void ask_typed(sqlite3* db,
                   const std::string& fid,
                   const std::string& from,
                   const LayerSchema& schema,
                   const ReadOptions& options) {
        std::string columns;
        std::string any;
        for (std::size_t i = 0; i < schema.fields.size(); ++i) {
            const std::string name = quoted_name(schema.fields[i].name);
            const std::string odd = is_odd(name, schema.fields[i].type);
            if (odd.empty() || !(is_wanted(options, i) || !options.where.empty())) {
                continue;
            }
            typed_of_.push_back({i, schema.fields[i].type});
            columns += ", CASE WHEN " + odd + " THEN CASE typeof(" + name +
                       ") WHEN 'blob' THEN hex(" + name + ") ELSE CAST(" + name +
                       " AS TEXT) END END";
            any += (any.empty() ? "((" : ") OR (") + odd;
        }
        if (!any.empty()) {
            typed_.emplace(db, "SELECT " + fid + columns + from + any + "))");
        }
    }

    void check_shapes(BatchRows& rows) {
        FidRange range;
        std::map<std::int64_t, std::size_t> without;
        for (const std::size_t row : rows_without_shape(rows)) {
            without.emplace(rows.fid(row), row);
            range.take(rows.fid(row));
        }
        if (without.empty()) {
            return;
        }
        for (shapes_->begin(range); shapes_->next();) {
            const auto at = without.find(shapes_->fid());
            if (at != without.end()) {
                rows.damage.push_back(
                    {static_cast<std::int64_t>(at->second),
                     {DamageKind::geometry, "geometry", with_nul_as(shapes_->text(1), kNulShown)}});
            }
        }
        shapes_->end();
    }

    /// Calls `use(row)` for every row that the question is answered with.
    template <typename Use>
    static void for_each_row(RangeQuery& query, const FeatureRows& rows, Use use) {
        FidRange range;
        std::map<std::int64_t, std::size_t> places;
        for (std::size_t row = 0; row < rows.size(); ++row) {
            places.emplace(rows.fid(row), row);
            range.take(rows.fid(row));
        }
        for (query.begin(range); query.next();) {
            const auto at = places.find(query.fid());
            if (at != places.end()) {
                use(at->second);
            }
        }
        query.end();
    }

    void mend_texts(FeatureRows& rows) {
        for_each_row(*texts_, rows, [&](std::size_t row) { mend_texts(rows, row); });
    }

    void mend_typed(FeatureRows& rows) {
        for_each_row(*typed_, rows, [&](std::size_t row) {
            for (std::size_t i = 0; i < typed_of_.size(); ++i) {
                const TypedColumn& column = typed_of_[i];
                const bool day =
                    column.type == FieldType::date || column.type == FieldType::datetime;
                const int place = static_cast<int>(i) + 1;
                if (!typed_->is_null(place) && !(day && !rows.is_null(row, column.index))) {
                    rows.keep_as_written(row, column.index, typed_->text(place));
                }
            }
        });
    }

    /// By the question's present row.
    void mend_texts(FeatureRows& rows, std::size_t row) {
        for (std::size_t i = 0; i < texts_of_.size(); ++i) {
            const std::string text = texts_->text(static_cast<int>(i) + 1);
            if (text.find('\0') == std::string::npos) {
                continue;
            }
            rows.features[row]->SetField(static_cast<int>(texts_of_[i].index),
                                         with_nul_as(text, kNulReplacement).c_str());
            rows.damage.push_back({static_cast<std::int64_t>(row),
                                   {DamageKind::nul_in_database,
                                    texts_of_[i].name,
                                    with_nul_as(text.substr(0, kShown), kNulShown)}});
        }
    }

    std::optional<RangeQuery> shapes_;
    std::optional<RangeQuery> texts_;
    std::vector<TextColumn> texts_of_;
    std::optional<RangeQuery> typed_;
    std::vector<TypedColumn> typed_of_;
};

class CsvRowCheck final : public RowCheck {
public:
    /// @param others what else is to be checked; null: nothing.
    CsvRowCheck(std::string path, std::unique_ptr<RowCheck> others)
        : path_{std::move(path)}, others_{std::move(others)} {}

    void check(BatchRows& rows, std::int64_t first_row) override {
        if (others_) {
            others_->check(rows, first_row);
        }
        const std::vector<std::size_t> without = rows_without_shape(rows);
        if (without.empty()) {
            return;
        }
        if (!lost_) {
            lost_ = find_lost();
        }
        for (const std::size_t row : without) {
            const auto at = lost_->equal_range(first_row + static_cast<std::int64_t>(row));
            for (auto it = at.first; it != at.second; ++it) {
                rows.damage.push_back({static_cast<std::int64_t>(row), it->second});
            }
        }
    }

private:
    using Lost = std::multimap<std::int64_t, RowDamage>;

    /// Cells of the coordinate columns that are no numbers, by row.
    Lost find_lost() const {
        Lost lost;
        const auto places = csv_places(path_);
        CsvRows rows{path_};
        CsvRow row;
        if (!places || !rows.next(row)) {
            return lost;
        }
        split(rows, row);
        std::vector<std::size_t> columns;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            if (row.cells[i] == places->x || row.cells[i] == places->y) {
                columns.push_back(i);
            }
        }
        const std::vector<std::string> names = row.cells;
        for (std::int64_t at = 0; rows.next(row); ++at) {
            split(rows, row);
            for (const std::size_t i : columns) {
                const std::string cell = i < row.cells.size() ? row.cells[i] : "";
                if (places->shape ? is_no_shape(cell) : is_no_coordinate(cell)) {
                    lost.emplace(at,
                                 RowDamage{DamageKind::geometry, names[i], cell.substr(0, kShown)});
                }
            }
        }
        return lost;
    }

    static bool is_no_coordinate(const std::string& cell) {
        const ValueStatus status = parse_number(cell).status;
        return status == ValueStatus::unreadable || status == ValueStatus::not_finite;
    }

    static bool is_no_shape(const std::string& cell) {
        return cell.find_first_not_of(" \t") != std::string::npos && !shape_of_text(cell);
    }

    static void split(const CsvRows& rows, CsvRow& row) {
        if (!row.split) {
            rows.split(row);
        }
    }

    std::string path_;
    std::unique_ptr<RowCheck> others_;
    std::optional<Lost> lost_;
};

}  // namespace

std::unique_ptr<RowCheck> make_row_check(GDALDataset& dataset,
                                         OGRLayer& layer,
                                         const LayerSchema& schema,
                                         const ReadOptions& options,
                                         const std::string& path) {
    const std::string driver = driver_name(dataset);
    if ((driver == "GPKG" && !schema.fid_name.empty()) || driver == "SQLite") {
        auto* db = static_cast<sqlite3*>(dataset.GetInternalHandle("SQLITE_HANDLE"));
        if (db != nullptr) {
            return std::make_unique<GpkgRowCheck>(db, layer.GetName(), schema, options);
        }
    }
    std::unique_ptr<RowCheck> written = make_written_check(driver, layer, schema, options, path);
    const auto places = sheet_places(driver, schema);
    if (places && options.geometry) {
        return make_sheet_place_check(*places, schema, std::move(written));
    }
    if (driver == "CSV" && schema.has_geometry() && options.geometry && options.where.empty()) {
        return std::make_unique<CsvRowCheck>(path, std::move(written));
    }
    return written;
}

}  // namespace linewood
