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

namespace linewood {

enum class OutputFormat : std::uint8_t { geopackage, flatgeobuf, geojson, shapefile, csv };

/// `geopackage`, `flatgeobuf`, `geojson`, `shapefile`, `csv`.
const char* name_of(OutputFormat format);
/// The format of that name (without case; `gpkg`, `fgb`, `json` and `shp` are understood), or nothing.
std::optional<OutputFormat> output_format_named(std::string_view name);
/// A path that ends in `.gpkg` is a GeoPackage file; any other is a folder, and nothing is returned.
std::optional<OutputFormat> output_format_of_path(const std::filesystem::path& path);

struct OutputOptions {
    bool overwrite = false;  ///< an existing target may be replaced
    /// Written as the time of change in GeoPackages (`2026-01-31T12:00:00.000Z`), so that the same
    /// input gives the same bytes; empty = now.
    std::string last_change = {};
    bool spatial_index = true;  ///< GeoPackage and FlatGeobuf
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
/// meaning of the columns. FlatGeobuf cannot hold rows without geometry: they are in `<layer>_nogeom.csv`;
/// it is in spatial order, not input order, unless `spatial_index` is off. A Shapefile holds one kind of
/// geometry: others are in `<layer>_<kind>.shp`; column names are short there (short_names.hpp). GeoJSON is
/// RFC 7946: longitude and latitude on WGS 84, 7 decimals. CSV has the coordinates in columns.
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
