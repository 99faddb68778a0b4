#include "geo/io/gpkg_notes.h"

#include "geo/io/gpkg_index.h"

namespace linewood {
namespace {

std::string description_of(const Field& field) {
    if (field.unit.empty()) {
        return field.meaning;
    }
    return field.meaning + (field.meaning.empty() ? "[" : " [") + field.unit + "]";
}

/// States that a table is of an extension; nothing where that is stated already.
void register_extension(SqliteFile& file,
                        const std::string& table,
                        const std::string& extension,
                        const std::string& definition) {
    create_extensions_table(file);
    file.run("INSERT INTO gpkg_extensions SELECT " + quoted_text(table) + ",NULL," +
             quoted_text(extension) + "," + quoted_text(definition) +
             ",'read-write' WHERE NOT EXISTS (SELECT 1 FROM gpkg_extensions WHERE table_name = " +
             quoted_text(table) + ")");
}

}  // namespace

void describe_columns(SqliteFile& file,
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
        return;
    }
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkg_data_columns (table_name TEXT NOT NULL,"
        "column_name TEXT NOT NULL,name TEXT,title TEXT,description TEXT,"
        "mime_type TEXT,constraint_name TEXT,CONSTRAINT pk_gdc PRIMARY KEY "
        "(table_name, column_name),CONSTRAINT gdc_tn UNIQUE (table_name, name))");
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkg_data_column_constraints ("
        "constraint_name TEXT NOT NULL,constraint_type TEXT NOT NULL,value TEXT,"
        "min NUMERIC,min_is_inclusive BOOLEAN,max NUMERIC,max_is_inclusive BOOLEAN,"
        "description TEXT,CONSTRAINT gdcc_ntv UNIQUE (constraint_name,"
        "constraint_type, value))");
    file.run(
        "INSERT OR REPLACE INTO gpkg_data_columns (table_name,column_name,title,"
        "description) VALUES " +
        rows);
    for (const char* name : {"gpkg_data_columns", "gpkg_data_column_constraints"}) {
        register_extension(
            file, name, "gpkg_schema", "http://www.geopackage.org/spec121/#extension_schema");
    }
}

void write_record(SqliteFile& file, const std::string& record, const std::string& time) {
    constexpr const char* kStandard = "http://www.isotc211.org/2005/gmd";
    constexpr const char* kNow = "strftime('%Y-%m-%dT%H:%M:%fZ','now')";
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkg_metadata (id INTEGER CONSTRAINT m_pk PRIMARY KEY ASC NOT "
        "NULL,md_scope TEXT NOT NULL DEFAULT 'dataset',md_standard_uri TEXT NOT NULL,"
        "mime_type TEXT NOT NULL DEFAULT 'text/xml',metadata TEXT NOT NULL DEFAULT '')");
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkg_metadata_reference (reference_scope TEXT NOT NULL,"
        "table_name TEXT,column_name TEXT,row_id_value INTEGER,timestamp DATETIME NOT NULL "
        "DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')),md_file_id INTEGER NOT NULL,"
        "md_parent_id INTEGER,CONSTRAINT crmr_mfi_fk FOREIGN KEY (md_file_id) REFERENCES "
        "gpkg_metadata(id),CONSTRAINT crmr_mpi_fk FOREIGN KEY (md_parent_id) REFERENCES "
        "gpkg_metadata(id))");
    // A record of the tool's own from an earlier run; another's stays.
    const std::string ours = "SELECT id FROM gpkg_metadata WHERE metadata LIKE '%linewood%'";
    file.run("DELETE FROM gpkg_metadata_reference WHERE md_file_id IN (" + ours + ")");
    file.run("DELETE FROM gpkg_metadata WHERE id IN (" + ours + ")");
    file.run(
        "INSERT INTO gpkg_metadata (md_scope,md_standard_uri,mime_type,metadata) VALUES "
        "('dataset'," +
        quoted_text(kStandard) + ",'text/xml'," + quoted_text(record) + ")");
    file.run("INSERT INTO gpkg_metadata_reference VALUES ('geopackage',NULL,NULL,NULL," +
             (time.empty() ? std::string{kNow} : quoted_text(time)) + ",last_insert_rowid(),NULL)");
    for (const char* name : {"gpkg_metadata", "gpkg_metadata_reference"}) {
        register_extension(
            file, name, "gpkg_metadata", "http://www.geopackage.org/spec121/#extension_metadata");
    }
}

void write_relation(SqliteFile& file,
                    const KeyedTable& base,
                    const std::string& base_column,
                    const KeyedTable& related,
                    const std::string& related_column) {
    constexpr const char* kDefinition = "http://www.geopackage.org/18-000.html";
    file.run(
        "CREATE TABLE IF NOT EXISTS gpkgext_relations (id INTEGER PRIMARY KEY AUTOINCREMENT,"
        "base_table_name TEXT NOT NULL,base_primary_column TEXT NOT NULL DEFAULT 'id',"
        "related_table_name TEXT NOT NULL,related_primary_column TEXT NOT NULL DEFAULT 'id',"
        "relation_name TEXT NOT NULL,mapping_table_name TEXT NOT NULL UNIQUE)");
    const std::string view = base.name + "_" + related.name;
    file.run("DROP VIEW IF EXISTS " + quoted_name(view));
    file.run("DELETE FROM gpkgext_relations WHERE mapping_table_name = " + quoted_text(view));
    // A view, so that it is true of rows that are added or changed later, and takes no room.
    file.run("CREATE VIEW " + quoted_name(view) + " AS SELECT b." + quoted_name(base.fid) +
             " AS base_id, r." + quoted_name(related.fid) + " AS related_id FROM " +
             quoted_name(base.name) + " b JOIN " + quoted_name(related.name) + " r ON r." +
             quoted_name(related_column) + " = b." + quoted_name(base_column));
    file.run(
        "INSERT INTO gpkgext_relations (base_table_name,base_primary_column,"
        "related_table_name,related_primary_column,relation_name,mapping_table_name) VALUES (" +
        quoted_text(base.name) + "," + quoted_text(base.fid) + "," + quoted_text(related.name) +
        "," + quoted_text(related.fid) + ",'features'," + quoted_text(view) + ")");
    register_extension(file, "gpkgext_relations", "gpkg_related_tables", kDefinition);
    register_extension(file, view, "gpkg_related_tables", kDefinition);
}

void index_column(SqliteFile& file, const std::string& table, const std::string& column) {
    file.run("CREATE INDEX IF NOT EXISTS " + quoted_name("idx_" + table + "_" + column) + " ON " +
             quoted_name(table) + " (" + quoted_name(column) + ")");
}

}  // namespace linewood
