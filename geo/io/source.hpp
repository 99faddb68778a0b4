#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/layer_schema.hpp"

namespace linewood {

class SourcePool;
struct LayerPart;

/// An input dataset: a GeoPackage, FlatGeobuf, GeoJSON or GeoJSON Lines file, Shapefile, CSV, any
/// other vector file or connection string GDAL reads, or a folder that holds one file per layer, of
/// mixed kinds if need be (`poles.geojson`, `spans.fgb`, `inspections.csv`): there each file is a layer
/// named by its stem.
///
/// Opened read-only; nothing is ever written to it or left beside it. CSV is read as text throughout
/// (`007` stays `007`; empty = null; a geometry from the columns `wkt`/`geom`/`the_geom` or
/// `x`,`y`/`lon`,`lat`/`longitude`,`latitude`/`easting`,`northing`), GeoJSON dates as the text they are.
///
/// A cheap handle (copies share one state) and safe to use from many threads.
class Source {
public:
    /// @throws DataError: missing, not a vector dataset, unreadable, locked, or a GeoPackage with an
    /// unfinished change beside it (`-journal`).
    static Source open(const std::string& dataset);

    /// One layer of that name, made of others: the rows of all parts, one after the other, those that meet the
    /// part's condition; every column of every part, those called alike (without case) as one. Rows of a part
    /// with repeated groups have the columns listed, `source_fid` and `source_group`, and no geometry.
    /// FIDs are counted anew from 1, but for a single part without groups. No write-back to the parts.
    /// @pre there is a part
    /// @throws DataError where the parts have different coordinate systems, or a layer is not there;
    ///         ConditionError where a condition cannot be used.
    static Source compose(std::string name, std::vector<LayerPart> parts);

    /// As given to open(); of a composed layer the datasets of its parts.
    const std::string& dataset() const;
    /// `GPKG`, `FlatGeobuf`, `GeoJSON`, `ESRI Shapefile`, `CSV`, ... ; `folder` for a folder of files;
    /// `composed` for a layer made of several.
    const std::string& driver() const;
    /// In the dataset's order; folders by file name. Without the table of styles that desktop clients keep there.
    const std::vector<std::string>& layer_names() const;
    /// Asked without case.
    bool has_layer(std::string_view layer) const;
    /// @throws DataError naming the layers there are, or for a file that does not open.
    const LayerSchema& schema(std::string_view layer) const;
    /// The files of the dataset (for size and checksum), absolute paths sorted; the Shapefile's
    /// companions included, empty for a database connection.
    std::vector<std::filesystem::path> files() const;
    /// The files of one layer.
    std::vector<std::filesystem::path> files(std::string_view layer) const;

    /// The datasets behind this one: itself, or those of the parts of a composed layer, each once.
    std::vector<Source> datasets() const;

    /// For FeatureReader.
    const std::shared_ptr<SourcePool>& pool() const { return pool_; }

private:
    explicit Source(std::shared_ptr<SourcePool> pool) : pool_{std::move(pool)} {}
    std::shared_ptr<SourcePool> pool_;
};

/// The version of GDAL at run time: `3.6.2`.
std::string gdal_version();

}  // namespace linewood
