#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/tiles/web_mercator.hpp"

namespace linewood {

/// The different values of a layer, each once, numbered as they first came.
class TileValues {
public:
    TileValues();
    std::uint32_t number_of(std::string_view value);
    /// All of them as fields of a layer.
    const std::string& fields() const { return fields_; }

private:
    struct Entry {
        std::uint32_t begin;
        std::uint32_t length;
        std::uint64_t hash;
    };
    std::string_view value(const Entry& entry) const;
    void grow();

    std::string fields_;
    std::vector<Entry> entries_;
    std::vector<std::uint32_t> slots_;  ///< a hash table: the number plus one, 0 where it is free
};

/// A tile of one layer of points, as the Mapbox Vector Tile Specification 2.1 has it, grown feature by feature and
/// never compressed (a plain web server would have to say so of each file).
class TileLayer {
public:
    /// @param keys what the properties' keys stand for; outlives this.
    TileLayer(std::string_view name, std::span<const std::string> keys);

    /// @param id nothing: the feature has none
    /// @param packed as TileProperties::packed()
    void add_point(TilePoint at, std::optional<std::uint64_t> id, std::string_view packed);

    std::size_t features() const { return features_; }
    /// Of the tile as it is now.
    std::size_t bytes() const;
    std::string tile() const;

    /// What a tile takes at most apart from its features.
    static std::size_t most_frame_bytes(std::string_view name, std::span<const std::string> keys);

private:
    std::uint32_t key_number(std::uint32_t key);
    std::size_t layer_bytes() const;

    std::span<const std::string> keys_;
    std::vector<std::uint32_t> key_numbers_;  ///< plus one; 0 where the key was not used yet
    std::uint32_t keys_used_ = 0;
    std::size_t features_ = 0;
    std::string head_;  ///< version and name
    std::string feature_fields_;
    std::string key_fields_;
    TileValues values_;
    std::string tags_;
    std::string feature_;
};

}  // namespace linewood
