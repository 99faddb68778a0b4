#include "geo/io/gpkg_index.h"

#include <cstdlib>

#include "assess/record/release.hpp"
#include "geo/io/gdal_session.h"

namespace linewood {
namespace {

/// Replaces `@T` table, `@C` geometry column, `@I` FID column, `@R` index, and `@x`, for any other `x`,
/// the trigger of that name, up to the blank. All quoted.
class Pattern {
public:
    Pattern(const std::string& table,
            const std::string& column,
            const std::string& fid,
            std::string index)
        : table_{quoted_name(table)},
          column_{quoted_name(column)},
          fid_{quoted_name(fid)},
          index_{std::move(index)} {}

    std::string filled(std::string_view pattern) const {
        std::string out;
        while (!pattern.empty()) {
            const std::size_t at = pattern.find('@');
            out += pattern.substr(0, at);
            if (at == std::string_view::npos) {
                break;
            }
            pattern.remove_prefix(at + 1);
            const std::size_t length =
                std::string_view{"TCIR"}.find(pattern.front()) != std::string_view::npos
                    ? 1
                    : pattern.find(' ');
            out += named(pattern.substr(0, length));
            pattern.remove_prefix(length);
        }
        return out;
    }

private:
    std::string named(std::string_view key) const {
        if (key == "T") {
            return table_;
        }
        if (key == "C") {
            return column_;
        }
        if (key == "I") {
            return fid_;
        }
        return quoted_name(key == "R" ? index_ : index_ + "_" + std::string{key});
    }

    std::string table_;
    std::string column_;
    std::string fid_;
    std::string index_;  // not quoted: trigger names begin with it
};

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

}  // namespace

void create_extensions_table(SqliteFile& file) {
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkg_extensions (table_name TEXT,column_name TEXT,"
        "extension_name TEXT NOT NULL,definition TEXT NOT NULL,scope TEXT NOT NULL,"
        "CONSTRAINT ge_tce UNIQUE (table_name, column_name, extension_name))");
}

void build_gpkg_index(SqliteFile& file,
                      const std::string& table,
                      const std::string& fid,
                      const std::string& geometry,
                      std::vector<IndexedBox>& boxes) {
    const std::string index = "rtree_" + table + "_" + geometry;
    file.run("CREATE VIRTUAL TABLE " + quoted_name(index) +
             " USING rtree(id, minx, maxx, miny, maxy)");
    const std::string nodes = quoted_name(index + "_node");
    const std::string root = file.ask("SELECT length(data) FROM " + nodes + " WHERE nodeno = 1");
    const auto node_bytes = static_cast<std::size_t>(std::strtoull(root.c_str(), nullptr, 10));
    if (node_bytes < 128) {
        throw_write_error(file.shown(), "building the spatial index", "it has no root node");
    }
    SqliteInsert node_rows{file, "INSERT OR REPLACE INTO " + nodes + " VALUES (?,?)"};
    SqlitePairs parent_rows{file, quoted_name(index + "_parent")};
    SqlitePairs id_rows{file, quoted_name(index + "_rowid")};
    RtreeSink sink;
    sink.node = [&](std::int64_t node, const std::string& blob) {
        node_rows.bind(1, node);
        node_rows.bind_bytes(2, blob);
        node_rows.step();
    };
    sink.parent = [&](std::int64_t node, std::int64_t parent) { parent_rows.add(node, parent); };
    sink.rowid = [&](std::int64_t id, std::int64_t node) { id_rows.add(id, node); };
    pack_rtree(boxes, node_bytes, sink);
    parent_rows.finish();
    id_rows.finish();
    release(boxes);
    const Pattern pattern{table, geometry, fid, index};
    for (const char* trigger : kTriggers) {
        file.run(pattern.filled(trigger));
    }
    create_extensions_table(file);
    file.run("INSERT INTO gpkg_extensions VALUES (" + quoted_text(table) + "," +
             quoted_text(geometry) +
             ",'gpkg_rtree_index',"
             "'http://www.geopackage.org/spec120/#extension_rtree','write-only')");
}

}  // namespace linewood
