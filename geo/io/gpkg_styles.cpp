#include "geo/io/gpkg_styles.h"

namespace linewood {
namespace {

constexpr const char* kOwner = "'linewood'";

/// Columns and types as desktop clients create them.
void create_table(SqliteFile& file) {
    file.run(
        "CREATE TABLE IF NOT EXISTS layer_styles (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL,"
        "f_table_catalog TEXT(256),f_table_schema TEXT(256),f_table_name TEXT(256),"
        "f_geometry_column TEXT(256),styleName TEXT(30),styleQML TEXT,styleSLD TEXT,"
        "useAsDefault BOOLEAN,description TEXT,owner TEXT(30),ui TEXT(30),"
        "update_time DATETIME DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')))");
}

/// Is what is called so a table with these columns?
bool is_style_table(SqliteFile& file) {
    return file.ask(
               "SELECT count(*) FROM pragma_table_info('layer_styles') WHERE name IN "
               "('f_table_catalog','f_table_schema','f_table_name','f_geometry_column','styleName',"
               "'styleQML','styleSLD','useAsDefault','description','owner','ui','update_time')") ==
               "12" &&
           file.ask("SELECT type FROM sqlite_master WHERE lower(name) = 'layer_styles'") == "table";
}

void register_table(SqliteFile& file, const std::string& now) {
    file.run(
        "INSERT INTO gpkg_contents (table_name,data_type,identifier,description,last_change,srs_id)"
        " SELECT 'layer_styles','attributes','layer_styles',"
        "'How the layers are drawn (QML and SLD)'," +
        now + ",0 WHERE NOT EXISTS (SELECT 1 FROM gpkg_contents WHERE lower(table_name) = " +
        "'layer_styles')");
    file.run("UPDATE gpkg_contents SET last_change = " + now +
             " WHERE lower(table_name) = 'layer_styles'");
    // OGR keeps its count by triggers, which are off while a dataset is changed in place.
    if (file.ask("SELECT count(*) FROM sqlite_master WHERE name = 'gpkg_ogr_contents'") == "1") {
        file.run(
            "UPDATE gpkg_ogr_contents SET feature_count = (SELECT count(*) FROM layer_styles) "
            "WHERE lower(table_name) = 'layer_styles'");
    }
}

}  // namespace

std::string write_styles(SqliteFile& file,
                         const std::vector<LayerStyles>& layers,
                         const std::string& now) {
    create_table(file);
    if (!is_style_table(file)) {
        return "the dataset has a table layer_styles that is no table of styles, so that none are "
               "kept in it; rename it, or write to another place with --out";
    }
    for (const LayerStyles& layer : layers) {
        const std::string own = " lower(f_table_name) = lower(" + quoted_text(layer.layer) + ")";
        file.run(std::string{"DELETE FROM layer_styles WHERE owner = "} + kOwner + " AND" + own);
        const bool taken =
            file.ask("SELECT count(*) FROM layer_styles WHERE useAsDefault AND" + own) != "0";
        for (const StoredStyle& style : layer.styles) {
            file.run(
                "INSERT INTO layer_styles (f_table_catalog,f_table_schema,f_table_name,"
                "f_geometry_column,styleName,styleQML,styleSLD,useAsDefault,description,owner,ui,"
                "update_time) VALUES ('','',"  // empty, not null: clients compare
                + quoted_text(layer.layer) + "," + quoted_text(layer.geometry) + "," +
                quoted_text(style.name) + "," + quoted_text(style.qml) + "," +
                quoted_text(style.sld) + "," + (style.is_default && !taken ? "1" : "0") + "," +
                quoted_text(style.description) + "," + kOwner + ",NULL," + now + ")");
        }
    }
    register_table(file, now);
    return {};
}

}  // namespace linewood
