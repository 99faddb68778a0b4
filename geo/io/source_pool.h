#pragma once

// Private to geo/io: the open handles behind a Source.

#include <cstddef>
#include <filesystem>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/gdal_session.h"
#include "geo/io/geojson_scan.h"
#include "geo/io/layer_schema.hpp"
#include "geo/io/stand_in.h"

namespace linewood {

class Composition;
class SourcePool;
struct LayerPart;

/// A dataset handle on loan from the pool, and one layer of it. Gives the handle back at its end, so that
/// the next pass over the dataset need not open it again (opening GeoJSON reads all of it).
class LayerLoan {
public:
    LayerLoan(std::shared_ptr<SourcePool> pool,
              std::string file,
              GDALDatasetUniquePtr dataset,
              OGRLayer* layer);
    ~LayerLoan();
    LayerLoan(LayerLoan&&) noexcept = default;
    LayerLoan& operator=(LayerLoan&&) = delete;
    LayerLoan(const LayerLoan&) = delete;
    LayerLoan& operator=(const LayerLoan&) = delete;

    OGRLayer& layer() const { return *layer_; }
    GDALDataset& dataset() const { return *dataset_; }
    /// Do not give the handle back: it failed.
    void spoil() { spoilt_ = true; }

private:
    std::shared_ptr<SourcePool> pool_;
    std::string file_;
    GDALDatasetUniquePtr dataset_;
    OGRLayer* layer_;
    bool spoilt_ = false;
};

class SourcePool : public std::enable_shared_from_this<SourcePool> {
public:
    struct Entry {
        std::string name;        ///< as presented
        std::string file;        ///< what GDAL opens
        std::string inner_name;  ///< in the file; empty = its first layer
        /// Entries that hold more rows of the same layer, to be read after it.
        std::vector<std::size_t> parts = {};
    };

    static std::shared_ptr<SourcePool> open(const std::string& dataset);

    static std::shared_ptr<SourcePool> compose(std::string name, std::vector<LayerPart> parts);
    ~SourcePool();
    SourcePool(const SourcePool&) = delete;
    SourcePool& operator=(const SourcePool&) = delete;
    SourcePool(SourcePool&&) = delete;
    SourcePool& operator=(SourcePool&&) = delete;

    /// Null where the layers are those of a dataset. A composed pool has no files of its own to open.
    const Composition* composition() const { return composition_.get(); }

    const std::string& dataset() const { return dataset_; }
    const std::string& driver() const { return driver_; }
    const std::vector<std::string>& names() const { return names_; }

    bool has(std::string_view layer) const;
    /// @throws DataError naming the layers there are.
    std::size_t find(std::string_view layer) const;
    const LayerSchema& schema(std::size_t index);
    LayerLoan borrow(std::size_t index);
    void give_back(const std::string& file, GDALDatasetUniquePtr dataset) noexcept;
    std::vector<std::filesystem::path> files(const std::string& file);
    const Entry& entry(std::size_t index) const { return entries_[index]; }
    /// What is opened for a file: itself, or what stands in for it.
    std::string read_path(const std::string& file);
    /// Is it a folder that the tool wrote? Texts of its CSV files are guarded against spreadsheets.
    bool is_own_folder() const { return own_folder_; }
    /// Of a layer with its parts.
    std::vector<std::filesystem::path> layer_files(std::size_t index);
    /// What is wrong with the rows of a file, by row; empty for nearly all.
    const std::vector<PlacedDamage>& damage(const std::string& file);
    /// Texts that GDAL ends at a byte 0.
    const std::vector<CutText>& cut_texts(const std::string& file, const std::string& driver);
    /// What GDAL does not make of a file of GeoJSON; null for other drivers, and where it is not on disk.
    const GeoJsonScan* geojson(const std::string& file, const std::string& driver);
    std::vector<std::filesystem::path> all_files();

private:
    explicit SourcePool(std::string dataset);
    void list_folder(const std::filesystem::path& folder);
    void add_layers_of(const std::string& file);
    void join_parts(const std::filesystem::path& folder);
    GDALDatasetUniquePtr take(const std::string& file);
    std::shared_ptr<const StandIn> stand_in(const std::string& file);

    std::string dataset_;
    std::string driver_;
    bool own_folder_ = false;
    std::unique_ptr<const Composition> composition_;
    std::vector<Entry> entries_;  // those with a name to ask for first, then the parts of others
    std::vector<std::string> names_;  // of the first

    std::shared_ptr<const StandIn> unpacked_;  // removed after all handles

    std::mutex mutex_;                                                 // guards what follows
    std::map<std::string, std::shared_ptr<const StandIn>> stand_ins_;  // removed after the handles
    std::map<std::string, GeoJsonScan> geojson_;
    std::map<std::string, std::vector<CutText>> fgb_texts_;
    std::multimap<std::string, GDALDatasetUniquePtr> idle_;
    std::map<std::size_t, std::unique_ptr<LayerSchema>> schemas_;
};

/// Opens a vector dataset for reading, leaving nothing beside it. @param shown what messages call it.
/// @throws DataError
GDALDatasetUniquePtr open_for_reading(const std::string& file, const std::string& shown);

/// The layer as the file declares it, under its own name.
LayerSchema schema_of(OGRLayer& layer);

/// WKT 2 of a coordinate system; empty where there is none, or one that says that there is none.
std::string crs_wkt_of(const OGRSpatialReference* srs);

/// Puts units and meanings that a GeoPackage states of its columns into the schema's fields.
void read_column_notes(GDALDataset& dataset, LayerSchema& schema);

/// The OGR type for one of ours.
OGRwkbGeometryType ogr_type(const GeometryType& type);
GeometryType geometry_type(OGRwkbGeometryType type);

}  // namespace linewood
