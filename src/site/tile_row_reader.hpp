#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geo/io/feature_batch.hpp"
#include "geo/io/layer_schema.hpp"
#include "src/site/tile_row_store.hpp"

namespace linewood {

/// A batch of poles as tiles hold them.
struct TileBatch {
    PackedRows packed;
    std::vector<Point> places;  ///< in the coordinates of the layer; NaN where there is none
    std::vector<std::uint8_t> verdicts;
    std::uint64_t cut_texts = 0;
};

/// Turns rows of the poles layer into attributes of tiles. For any number of threads.
class TileRowReader {
public:
    /// @param fields empty = all columns
    /// @throws DataError where the layer has no verdict; JobError naming a field that is not there.
    TileRowReader(const std::string& dataset,
                  const LayerSchema& schema,
                  const std::vector<std::string>& fields);

    /// The columns that are needed, for ReadOptions.
    std::vector<std::size_t> columns() const;
    /// The names of the properties.
    std::vector<std::string> names() const;
    TileBatch read(const FeatureBatch& batch, const TileRowStore& store) const;

private:
    struct Column {
        std::size_t index = 0;
        FieldType type = FieldType::text;
        std::string name;
    };

    std::vector<Column> columns_;  ///< pole_id and verdict are not among them
    std::size_t verdict_ = 0;
    std::optional<std::size_t> pole_id_;
};

}  // namespace linewood
