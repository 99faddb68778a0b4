#pragma once

// Private to geo/io: one layer that OGR writes, in a file of its own or in a shared GeoPackage.

#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "geo/io/gdal_session.h"
#include "geo/io/row_input.h"
#include "geo/io/source_pool.h"

namespace linewood {

/// The OGR driver's name for a format.
const char* driver_of(OutputFormat format);

/// An output CRS with x east and y north; null for empty text.
/// @throws DataError where the text is no CRS.
struct SrsRelease {
    void operator()(OGRSpatialReference* srs) const { srs->Release(); }
};
using SrsPtr = std::unique_ptr<OGRSpatialReference, SrsRelease>;
SrsPtr srs_from_wkt(const std::string& wkt, const std::string& path, const std::string& layer);

/// @param shown the path to name in errors.
GDALDatasetUniquePtr create_dataset(const std::filesystem::path& path,
                                    OutputFormat format,
                                    const CPLStringList& options,
                                    const std::string& shown);

/// A layer and the one feature object its rows go through.
class OgrLayerFile {
public:
    /// In `dataset`, which outlives it. `shown` is the path to name in errors.
    OgrLayerFile(GDALDataset& dataset,
                 const LayerPlan& plan,
                 std::vector<OutColumn>& columns,
                 OutputFormat format,
                 const CPLStringList& options,
                 std::string shown);

    /// @return the FID the row got.
    std::int64_t write(const LayerPlan& plan,
                       const RowInput& input,
                       OGRGeometryUniquePtr geometry,
                       std::int64_t fid);
    /// Rows whose wish for a FID could not be met.
    std::int64_t renumbered() const { return renumbered_; }
    std::int64_t rows() const { return rows_; }
    OGRLayer& layer() { return layer_; }

private:
    OGRLayer& create_layer(GDALDataset& dataset,
                           const LayerPlan& plan,
                           const CPLStringList& options);
    void create(std::int64_t fid);

    std::string shown_;
    OutputFormat format_;
    std::vector<OutColumn>& columns_;
    int first_field_ = 0;  ///< behind the fields that a driver has in every layer (KML)
    OGRLayer& layer_;
    OGRFeatureUniquePtr feature_;
    RawValue value_;
    std::int64_t renumbered_ = 0;
    std::int64_t rows_ = 0;
};

}  // namespace linewood
