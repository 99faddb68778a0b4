#pragma once

// Private to geo/io: what a FeatureBatch holds.

#include <cstddef>
#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include <ogrsf_frmts.h>

#include "geo/io/csv_scan.h"
#include "geo/io/feature_batch.hpp"
#include "geo/io/raw_value.hpp"

namespace linewood {

/// A geometry as it lies in the batch: an OGR object or well-known binary; neither = null.
struct StoredGeometry {
    const OGRGeometry* object = nullptr;
    const unsigned char* wkb = nullptr;
    std::size_t wkb_size = 0;

    bool present() const { return object != nullptr || wkb != nullptr; }
};

class BatchRows {
public:
    BatchRows() = default;
    virtual ~BatchRows() = default;
    BatchRows(const BatchRows&) = delete;
    BatchRows& operator=(const BatchRows&) = delete;
    BatchRows(BatchRows&&) = delete;
    BatchRows& operator=(BatchRows&&) = delete;

    virtual std::size_t size() const = 0;
    virtual std::int64_t fid(std::size_t row) const = 0;
    virtual bool is_null(std::size_t row, std::size_t column) const = 0;
    /// Overwrites `value` as a whole (but keeps the capacity of `owned`).
    virtual void get(std::size_t row, std::size_t column, RawValue& value) const = 0;
    virtual StoredGeometry geometry(std::size_t row) const = 0;

    std::int64_t first_row = 0;
    std::size_t part = 0;  ///< of a composed layer, the source the rows are from
    /// By row of this batch; empty for nearly all.
    std::vector<PlacedDamage> damage;
};

/// Rows read feature by feature.
class FeatureRows final : public BatchRows {
public:
    std::vector<OGRFeatureUniquePtr> features;
    /// Of a layer whose features cannot have any, by row; empty for nearly all.
    std::vector<OGRGeometryUniquePtr> places;

    std::size_t size() const override { return features.size(); }
    std::int64_t fid(std::size_t row) const override { return features[row]->GetFID(); }
    bool is_null(std::size_t row, std::size_t column) const override;
    void get(std::size_t row, std::size_t column, RawValue& value) const override;
    StoredGeometry geometry(std::size_t row) const override;

    void clear() {
        features.clear();
        places.clear();
        written_.clear();
    }
    /// From now on the value is this text, whatever OGR made of it.
    void keep_as_written(std::size_t row, std::size_t column, std::string text) {
        written_[{row, column}] = std::move(text);
    }

private:
    std::map<std::pair<std::size_t, std::size_t>, std::string> written_;  ///< empty for nearly all
};

/// A geometry of its own; null where the bytes are no geometry.
OGRGeometryUniquePtr make_geometry(const StoredGeometry& stored);

/// Of well-known text; null where it is none.
OGRGeometryUniquePtr shape_of_text(const std::string& wkt);

Read<Point, ShapeStatus> point_of(const StoredGeometry& stored);
Read<LineParts, ShapeStatus> path_of(const StoredGeometry& stored);
/// WKT; bytes that are no geometry as hexadecimal.
std::string shape_text(const StoredGeometry& stored);
std::optional<Point> first_vertex_of(const StoredGeometry& stored);
PathExtras extras_of(const StoredGeometry& stored);
Read<Polygons, ShapeStatus> polygons_of(const StoredGeometry& stored);

}  // namespace linewood
