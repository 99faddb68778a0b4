#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/feature_batch.hpp"
#include "geo/io/source.hpp"

namespace linewood {

struct ReadOptions {
    /// Positions in the schema of the columns wanted; nothing = all. A short list is much cheaper.
    std::optional<std::vector<std::size_t>> columns = std::nullopt;
    bool geometry = true;
    /// Only features that this holds of, in OGR's words (`height > 40 AND species = 'x'`); empty = all.
    /// Such a read is feature by feature, with all columns.
    std::string where = {};
    std::size_t batch_size = 4096;
    /// Read GeoPackage, FlatGeobuf and CSV past OGR's features where that is safe (the values are the
    /// same; it is two to five times as fast). Off = always feature by feature.
    bool columnar = true;
};

/// Reads one layer from its first to its last feature. Holds its own handle on the dataset, so
/// readers of one Source may run in different threads; each reader is for one thread at a time.
/// Memory: two batches at most. Damage that reading can go on from is told, and the rest of the row or layer read.
class FeatureReader {
public:
    /// @throws DataError as Source::schema(), and where the filter cannot be understood.
    FeatureReader(const Source& source, std::string_view layer, ReadOptions options = {});
    ~FeatureReader();
    FeatureReader(FeatureReader&& other) noexcept;
    FeatureReader& operator=(FeatureReader&& other) noexcept;
    FeatureReader(const FeatureReader&) = delete;
    FeatureReader& operator=(const FeatureReader&) = delete;

    /// Fills `batch` with the next features; false (and an empty batch) after the last.
    /// @throws DataError where the file ends too early, is damaged or cannot be read on.
    bool next(FeatureBatch& batch);

    const LayerSchema& schema() const;
    /// After the last feature: what is wrong with the layer in the file and cannot be said of one of its
    /// features. At most some dozens.
    const std::vector<RowDamage>& layer_damage() const;
    /// Features given so far.
    std::int64_t rows_read() const;

private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace linewood
