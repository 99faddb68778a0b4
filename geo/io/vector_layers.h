#pragma once

// Private to geo/io: the layer writers by format.

#include <filesystem>
#include <memory>
#include <string>

#include "geo/io/ogr_file.h"

namespace linewood {

class GpkgFile;

/// A layer of a GeoPackage that is being written in one transaction. Index and column descriptions are done
/// by close(), before the transaction is committed. `file` outlives it.
std::unique_ptr<LayerSink> make_gpkg_layer(GpkgFile& file,
                                           const LayerPlan& plan,
                                           const OutputOptions& options);

/// One file in `folder`, errors naming `shown`. @pre the plan has a geometry.
std::unique_ptr<LayerSink> make_flatgeobuf_layer(const std::filesystem::path& folder,
                                                 const LayerPlan& plan,
                                                 const OutputOptions& options,
                                                 const std::string& shown);
std::unique_ptr<LayerSink> make_geojson_layer(const std::filesystem::path& folder,
                                              const LayerPlan& plan,
                                              const std::string& shown);
std::unique_ptr<LayerSink> make_shapefile_layer(const std::filesystem::path& folder,
                                                const LayerPlan& plan,
                                                const std::string& shown);

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
