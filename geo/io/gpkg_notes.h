#pragma once

// Private to geo/io: what a GeoPackage says about itself, in the standard's extensions.

#include <string>
#include <vector>

#include "geo/io/out_column.h"
#include "geo/io/sqlite_file.h"

namespace linewood {

/// The schema extension: units and meanings of the columns in the file itself.
void describe_columns(SqliteFile& file,
                      const std::string& table,
                      const std::vector<OutColumn>& columns);

/// The metadata extension: one record (XML) about the file as a whole, in place of those before.
/// @param time of the record, as the standard writes instants; empty = now.
void write_record(SqliteFile& file, const std::string& record, const std::string& time);

/// A table and the column its rows are told apart by.
struct KeyedTable {
    std::string name;
    std::string fid;
};

/// The related tables extension: rows with the same text in both columns belong together, as a view says.
void write_relation(SqliteFile& file,
                    const KeyedTable& base,
                    const std::string& base_column,
                    const KeyedTable& related,
                    const std::string& related_column);

/// An index to find rows of a table by a column; built at once, best after the rows.
void index_column(SqliteFile& file, const std::string& table, const std::string& column);

}  // namespace linewood
