#include "geo/io/gpkg_index.h"

#include <cstdlib>

#include "geo/io/value_text.hpp"

namespace linewood {
namespace {

constexpr std::size_t kStatementBytes = std::size_t{1} << 17U;

/// Gathers rows into INSERT statements of many rows each.
class BulkInsert {
public:
    BulkInsert(GDALDataset& dataset, std::string head)
        : dataset_{dataset}, head_{std::move(head)} {}

    void add(std::string_view row) {
        statement_ += statement_.empty() ? head_ : ",";
        statement_ += row;
        if (statement_.size() >= kStatementBytes) {
            flush();
        }
    }
    bool flush() {
        if (!statement_.empty()) {
            good_ = good_ && run_sql(dataset_, statement_);
            statement_.clear();
        }
        return good_;
    }

private:
    GDALDataset& dataset_;
    std::string head_;
    std::string statement_;
    bool good_ = true;
};

std::string pair_row(std::int64_t a, std::int64_t b) {
    return "(" + std::to_string(a) + "," + std::to_string(b) + ")";
}

/// Replaces `@T` table, `@C` geometry column, `@I` fid column, `@R` index (all quoted).
std::string filled(std::string_view pattern,
                   const std::string& table,
                   const std::string& column,
                   const std::string& fid,
                   const std::string& bare_index) {
    std::string out;
    for (std::size_t i = 0; i < pattern.size(); ++i) {
        if (pattern[i] != '@') {
            out += pattern[i];
            continue;
        }
        switch (pattern[++i]) {
            case 'T':
                out += quoted_name(table);
                break;
            case 'C':
                out += quoted_name(column);
                break;
            case 'I':
                out += quoted_name(fid);
                break;
            case 'R':
                out += quoted_name(bare_index);
                break;
            default: {  // @1 ... a trigger's suffix follows up to the blank
                std::string name = bare_index + "_";
                while (pattern[i] != ' ') {
                    name += pattern[i++];
                }
                out += quoted_name(name) + " ";
            }
        }
    }
    return out;
}

// The maintenance triggers of the standard's R-tree extension, the set that GDAL 3.6 makes.
constexpr const char* kTriggers[] = {
    "CREATE TRIGGER @insert AFTER INSERT ON @T WHEN (new.@C NOT NULL AND NOT ST_IsEmpty(NEW.@C)) "
    "BEGIN INSERT OR REPLACE INTO @R VALUES (NEW.@I,ST_MinX(NEW.@C), ST_MaxX(NEW.@C),"
    "ST_MinY(NEW.@C), ST_MaxY(NEW.@C)); END;",
    "CREATE TRIGGER @update1 AFTER UPDATE OF @C ON @T WHEN OLD.@I = NEW.@I AND "
    "(NEW.@C NOTNULL AND NOT ST_IsEmpty(NEW.@C)) BEGIN INSERT OR REPLACE INTO @R VALUES "
    "(NEW.@I,ST_MinX(NEW.@C), ST_MaxX(NEW.@C),ST_MinY(NEW.@C), ST_MaxY(NEW.@C)); END;",
    "CREATE TRIGGER @update2 AFTER UPDATE OF @C ON @T WHEN OLD.@I = NEW.@I AND "
    "(NEW.@C ISNULL OR ST_IsEmpty(NEW.@C)) BEGIN DELETE FROM @R WHERE id = OLD.@I; END;",
    "CREATE TRIGGER @update3 AFTER UPDATE ON @T WHEN OLD.@I != NEW.@I AND "
    "(NEW.@C NOTNULL AND NOT ST_IsEmpty(NEW.@C)) BEGIN DELETE FROM @R WHERE id = OLD.@I; "
    "INSERT OR REPLACE INTO @R VALUES (NEW.@I,ST_MinX(NEW.@C), ST_MaxX(NEW.@C),ST_MinY(NEW.@C), "
    "ST_MaxY(NEW.@C)); END;",
    "CREATE TRIGGER @update4 AFTER UPDATE ON @T WHEN OLD.@I != NEW.@I AND "
    "(NEW.@C ISNULL OR ST_IsEmpty(NEW.@C)) BEGIN DELETE FROM @R WHERE id IN (OLD.@I, NEW.@I); END;",
    "CREATE TRIGGER @delete AFTER DELETE ON @T WHEN old.@C NOT NULL BEGIN DELETE FROM @R "
    "WHERE id = OLD.@I; END;"};

bool create_extension_row(GDALDataset& dataset,
                          const std::string& table,
                          const std::string& column) {
    return create_extensions_table(dataset) &&
           run_sql(dataset,
                   "INSERT INTO gpkg_extensions VALUES (" + quoted_text(table) + "," +
                       quoted_text(column) +
                       ",'gpkg_rtree_index',"
                       "'http://www.geopackage.org/spec120/#extension_rtree','write-only')");
}

}  // namespace

std::string quoted_name(const std::string& name) {
    std::string out = "\"";
    for (const char c : name) {
        out += c == '"' ? "\"\"" : std::string{c};
    }
    return out + '"';
}

std::string quoted_text(const std::string& text) {
    std::string out = "'";
    for (const char c : text) {
        out += c == '\'' ? "''" : std::string{c};
    }
    return out + '\'';
}

bool run_sql(GDALDataset& dataset, const std::string& sql) {
    CPLErrorReset();
    OGRLayer* result = dataset.ExecuteSQL(sql.c_str(), nullptr, nullptr);
    if (result != nullptr) {
        dataset.ReleaseResultSet(result);
    }
    return CPLGetLastErrorType() < CE_Failure;
}

std::string ask_sql(GDALDataset& dataset, const std::string& sql) {
    OGRLayer* result = dataset.ExecuteSQL(sql.c_str(), nullptr, nullptr);
    if (result == nullptr) {
        return {};
    }
    std::string answer;
    {
        const OGRFeatureUniquePtr row{result->GetNextFeature()};
        if (row && row->GetFieldCount() > 0) {
            answer = row->GetFieldAsString(0);
        }
    }
    dataset.ReleaseResultSet(result);
    return answer;
}

bool create_extensions_table(GDALDataset& dataset) {
    return run_sql(dataset,
                   "CREATE TABLE IF NOT EXISTS gpkg_extensions (table_name TEXT,column_name TEXT,"
                   "extension_name TEXT NOT NULL,definition TEXT NOT NULL,scope TEXT NOT NULL,"
                   "CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))");
}

bool build_gpkg_index(GDALDataset& dataset,
                      const std::string& table,
                      const std::string& fid,
                      const std::string& geometry,
                      std::vector<IndexedBox>& boxes) {
    const std::string index = "rtree_" + table + "_" + geometry;
    if (!run_sql(dataset,
                 "CREATE VIRTUAL TABLE " + quoted_name(index) +
                     " USING rtree(id, minx, maxx, miny, maxy)")) {
        return false;
    }
    const std::string nodes = quoted_name(index + "_node");
    const auto node_bytes = static_cast<std::size_t>(std::atoll(  // NOLINT(cert-err34-c)
        ask_sql(dataset, "SELECT length(data) FROM " + nodes + " WHERE nodeno = 1").c_str()));
    if (node_bytes < 128) {
        CPLError(CE_Failure, CPLE_AppDefined, "the spatial index has no root node");
        return false;
    }
    BulkInsert node_rows{dataset, "INSERT OR REPLACE INTO " + nodes + " VALUES "};
    BulkInsert parent_rows{dataset, "INSERT INTO " + quoted_name(index + "_parent") + " VALUES "};
    BulkInsert id_rows{dataset, "INSERT INTO " + quoted_name(index + "_rowid") + " VALUES "};
    RtreeSink sink;
    sink.node = [&](std::int64_t node, const std::string& blob) {
        node_rows.add("(" + std::to_string(node) + ",X'" + hex_text(blob) + "')");
    };
    sink.parent = [&](std::int64_t node, std::int64_t parent) {
        parent_rows.add(pair_row(node, parent));
    };
    sink.rowid = [&](std::int64_t id, std::int64_t node) { id_rows.add(pair_row(id, node)); };
    pack_rtree(boxes, node_bytes, sink);
    boxes = {};
    if (!node_rows.flush() || !parent_rows.flush() || !id_rows.flush()) {
        return false;
    }
    for (const char* trigger : kTriggers) {
        if (!run_sql(dataset, filled(trigger, table, geometry, fid, index))) {
            return false;
        }
    }
    return create_extension_row(dataset, table, geometry);
}

}  // namespace linewood
