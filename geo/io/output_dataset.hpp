#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/column_plan.hpp"
#include "geo/io/layer_schema.hpp"
#include "geo/io/layer_writer.hpp"
#include "geo/io/stored_style.hpp"

namespace linewood {

enum class OutputFormat : std::uint8_t {
    geopackage,
    flatgeobuf,
    geojson,
    geojsonl,  ///< a feature a line
    shapefile,
    csv,
    gml,
    kml,
    xlsx,
    ods,
    postgis  ///< a database, named by a connection string
};

/// `geopackage`, `flatgeobuf`, `geojson`, `geojsonl`, `shapefile`, `csv`, `gml`, `kml`, `xlsx`, `ods`, `postgis`.
const char* name_of(OutputFormat format);
/// The format of that name (without case; `gpkg`, `fgb`, `json`, `geojsonseq` and `shp` are understood), or nothing.
std::optional<OutputFormat> output_format_named(std::string_view name);
/// A path that ends in `.gpkg` is a GeoPackage file, `PG:...` and `postgresql:...` a database; any other
/// is a folder, and nothing is returned.
std::optional<OutputFormat> output_format_of_path(const std::filesystem::path& path);

/// Does the text name a coordinate system of a map (`EPSG:4326`, WKT, PROJ string), not a geocentric one?
bool is_known_crs(const std::string& text);

struct OutputOptions {
    bool overwrite = false;  ///< an existing target may be replaced
    /// Written as the time of change in GeoPackages (`2026-01-31T12:00:00.000Z`), so that the same
    /// input gives the same bytes; empty = now.
    std::string last_change = {};
    bool spatial_index = true;  ///< GeoPackage and FlatGeobuf
    /// Coordinates are written in this system (`EPSG:4326`, WKT ...); empty = the layer's own. GeoJSON is then no
    /// RFC 7946, and names it.
    std::string crs = {};
    /// The path is a GeoPackage or database that is there, and that is changed as a whole or not at all:
    /// new layers replace `own_layers`, and layers with LayerPlan::in_place get columns.
    bool in_place = false;
    std::vector<std::string> own_layers = {};  ///< of an earlier run, which new layers may replace
};

/// Rows of `related` that belong to rows of `base`: they have the same text in the columns named.
struct LayerRelation {
    std::string base;
    std::string base_column;
    std::string related;
    std::string related_column;
};

struct LayerPlan {
    std::string name;  ///< layer and file name: `[a-z][a-z0-9_]*`
    /// The layer the carried columns come from; leave it empty for a layer of added columns only.
    LayerSchema source = {};
    std::vector<CarriedColumn> carried = {};  ///< first in the output, in this order
    std::vector<Field> added = {};            ///< then these; names must differ without case
    GeometryType geometry = {};               ///< kind none = a plain table
    std::string crs_wkt = {};                 ///< empty = unknown
    std::string fid_name = "fid";
    std::string geometry_name = "geom";
    /// Give every carried feature the FID it had (GeoPackage, GeoJSON's `id`). A FID that comes twice
    /// is kept for its first feature only, with a note.
    bool keep_fids = false;
    std::int64_t expected_rows = -1;  ///< where known: memory is then taken once, not in steps
    bool spatial_index = true;        ///< where the format and the dataset's options have one
    std::string description = {};     ///< of the layer, where the format can hold it
    std::vector<std::string> indexed =
        {};  ///< columns to find rows by, where the format has such an index
    /// Of a dataset changed in place: the layer is there, called `name`; its rows get the added columns by their
    /// FID, nothing else is written. Carried columns say what their names become.
    bool in_place = false;
    /// Rows are counted, nothing is written: the layer stays as it is.
    bool untouched = false;
    std::vector<StoredStyle> styles =
        {};  ///< how it is drawn, where the format can hold it (GeoPackage)
    std::shared_ptr<RepairedTexts> repaired = {};  ///< filled in by the writer
};

/// Something that was done to the data on the way out and that the user should know.
struct OutputNote {
    std::string layer;
    std::string field;  ///< empty = the layer as a whole
    std::string message;
};

struct LayerSummary {
    std::string name;
    std::int64_t rows = 0;  ///< appended = readable in the result
    std::int64_t rows_without_geometry = 0;
    std::vector<std::string> files;  ///< names in the folder; empty for a GeoPackage
};

struct OutputSummary {
    std::vector<LayerSummary> layers;
    std::vector<OutputNote> notes;
};

/// A whole output dataset: there complete, or not there.
///
/// Everything is written under a hidden name beside the target (`.NAME.linewood-PID-N…`), closed, flushed to
/// the disk, opened again and counted; then it is renamed. Without finish(), by abort() or on any exception,
/// nothing is left. What killed runs left beside the target is removed by the next create(), with a note.
///
/// Folder formats: `<layer>.<ext>` each, plain tables as `<layer>.csv`, and `fields.csv` with the unit and
/// meaning of the columns, and the same as `fields.json`. FlatGeobuf cannot hold rows without geometry: they are in `<layer>_nogeom.csv`;
/// it is in spatial order, not input order, unless `spatial_index` is off. A Shapefile holds one kind of
/// geometry: others are in `<layer>_<kind>.shp`; column names are short there (short_names.hpp). GeoJSON and
/// GeoJSON Lines are RFC 7946: longitude and latitude on WGS 84, 7 decimals; so are the places of KML. CSV, XLSX
/// and ODS have the coordinates in columns (points x and y, others WKT); beside a CSV is a `.csvt` with its types.
/// A database is written in one transaction, in the tables called like the layers.
///
/// For one thread at a time.
class OutputDataset {
public:
    /// @throws DataError where the target exists (naming `--overwrite`), is open in another program,
    ///         cannot be written, or (overwriting a folder) holds what this tool did not write.
    static OutputDataset create(const std::filesystem::path& path,
                                OutputFormat format,
                                OutputOptions options = {});
    ~OutputDataset();
    OutputDataset(OutputDataset&& other) noexcept;
    OutputDataset& operator=(OutputDataset&& other) noexcept;
    OutputDataset(const OutputDataset&) = delete;
    OutputDataset& operator=(const OutputDataset&) = delete;

    /// The writer lives as long as the dataset; layers may be filled in turns.
    LayerWriter& add_layer(const LayerPlan& plan);

    /// States that layers belong together, where the format can hold it (GeoPackage: related tables).
    void relate(LayerRelation relation);
    /// A record of the dataset as a whole (ISO 19115, as XML), where the format can hold it (GeoPackage).
    void describe(std::string record);

    /// Builds the indexes, closes, checks, and puts the result in its place. No append() after it.
    /// @throws DataError; then nothing is left, and a target that existed is as it was.
    OutputSummary finish();

    /// Removes everything written so far. Harmless after finish() and when called twice.
    void abort() noexcept;

private:
    class Impl;
    explicit OutputDataset(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

}  // namespace linewood
