#pragma once

// Private to geo/io: the layer writers by format.

#include <filesystem>
#include <memory>
#include <string>

#include "geo/io/ogr_file.h"

namespace linewood {

class GpkgFile;
class PgFile;

/// A layer of a GeoPackage that is being written in one transaction. Index and column descriptions are done
/// by close(), before the transaction is committed. `file` outlives it.
std::unique_ptr<LayerSink> make_gpkg_layer(GpkgFile& file,
                                           const LayerPlan& plan,
                                           const OutputOptions& options);

/// A layer that is there already in a copy of the input, to get the added columns. `file` outlives it.
std::unique_ptr<LayerSink> make_gpkg_columns(GpkgFile& file, const LayerPlan& plan);
/// Counts rows and leaves the layer as it is.
std::unique_ptr<LayerSink> make_untouched_layer(LayerPlan plan);

/// A table of a database, written in the transaction of `file`, which outlives it.
std::unique_ptr<LayerSink> make_pg_layer(PgFile& file, const LayerPlan& plan);
/// A table that is there already and gets the added columns at the end of the transaction.
std::unique_ptr<LayerSink> make_pg_columns(PgFile& file, const LayerPlan& plan);

/// One file in `folder`, errors naming `shown`. @pre the plan has a geometry.
std::unique_ptr<LayerSink> make_flatgeobuf_layer(const std::filesystem::path& folder,
                                                 const LayerPlan& plan,
                                                 const OutputOptions& options,
                                                 const std::string& shown);
/// @param standard RFC 7946; else in the plan's coordinate system, which it names.
std::unique_ptr<LayerSink> make_geojson_layer(const std::filesystem::path& folder,
                                              const LayerPlan& plan,
                                              const std::string& shown,
                                              bool standard);
/// GeoJSON Lines, GML or KML. @pre the plan is in degrees on WGS 84 where the format knows nothing else.
std::unique_ptr<LayerSink> make_ogr_layer(const std::filesystem::path& folder,
                                          const LayerPlan& plan,
                                          OutputFormat format,
                                          const std::string& shown);
/// XLSX or ODS, with the coordinates in columns.
std::unique_ptr<LayerSink> make_sheet_layer(const std::filesystem::path& folder,
                                            const LayerPlan& plan,
                                            OutputFormat format,
                                            const std::string& shown);
/// @param most_bytes that a file may have. DataError where it would get larger.
std::unique_ptr<LayerSink> make_shapefile_layer(const std::filesystem::path& folder,
                                                const LayerPlan& plan,
                                                const std::string& shown,
                                                std::uint64_t most_bytes);

/// Closes a dataset; OGR writes and reports much only then. @throws DataError
void close_dataset(GDALDatasetUniquePtr& dataset,
                   const std::string& shown,
                   const std::string& layer);

/// Features that a reader finds in the first layer of a finished file. @throws DataError
std::int64_t count_features(const std::filesystem::path& file,
                            const std::string& shown,
                            const std::string& layer);

/// @throws DataError where they differ.
void check_count(std::int64_t appended,
                 std::int64_t readable,
                 const std::string& shown,
                 const std::string& layer);

}  // namespace linewood
