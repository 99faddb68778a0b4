#pragma once

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/layer_schema.hpp"

namespace linewood {

class SourcePool;

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

    /// As given to open().
    const std::string& dataset() const;
    /// `GPKG`, `FlatGeobuf`, `GeoJSON`, `ESRI Shapefile`, `CSV`, ... ; `folder` for a folder of files.
    const std::string& driver() const;
    /// In the dataset's order; folders by file name.
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

    /// For FeatureReader.
    const std::shared_ptr<SourcePool>& pool() const { return pool_; }

private:
    explicit Source(std::shared_ptr<SourcePool> pool) : pool_{std::move(pool)} {}
    std::shared_ptr<SourcePool> pool_;
};

/// The version of GDAL at run time: `3.6.2`.
std::string gdal_version();

}  // namespace linewood
