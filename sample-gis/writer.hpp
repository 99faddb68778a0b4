#pragma once

#include <memory>
#include <string>

#include "sample-gis/records.hpp"

namespace linewood::sample {

enum class Format { gpkg, flatgeobuf, geojson_csv };

/// Writes the four layers, area by area, so that memory does not grow with the network.
/// - gpkg: one GeoPackage file, the same bytes for the same content.
/// - flatgeobuf: a folder with poles.fgb, spans.fgb, inspections.csv and defects.csv. FlatGeobuf holds no
///   row without geometry: such poles go to poles_nogeom.csv.
/// - geojson-csv: a folder with poles.geojson and spans.geojson (RFC 7946: longitude and latitude on WGS
///   84), inspections.csv and defects.csv. Grid azimuths would lose their meaning there, so they are
///   written as true ones.
class Writer {
public:
    /// @param crs anything GDAL reads as a coordinate system; empty for none
    /// @throws std::runtime_error where the output exists or cannot be made
    /// @param overwrite replace the files of that name that exist
    Writer(const std::string& path, Format format, const std::string& crs, bool overwrite);
    Writer(const Writer& other) = delete;
    Writer& operator=(const Writer& other) = delete;
    Writer(Writer&& other) = delete;
    Writer& operator=(Writer&& other) = delete;
    ~Writer();

    /// @throws std::runtime_error on the first row that cannot be written
    void write(const Area& area);
    /// Completes the files. @throws std::runtime_error where something did not reach the disk
    void finish();

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace linewood::sample
