#include "geo/tiles/tile_layer.hpp"

#include <functional>

#include "geo/tiles/protobuf.hpp"
#include "geo/tiles/tile_properties.hpp"

namespace linewood {
namespace {

// Field numbers of vector_tile.proto (Mapbox Vector Tile Specification 2.1).
constexpr unsigned kTileLayers = 3;
enum LayerField : unsigned { name = 1, feature = 2, key = 3, value = 4, extent = 5, version = 15 };
enum FeatureField : unsigned { id = 1, tags = 2, type = 3, geometry = 4 };
constexpr unsigned kPointType = 1;
/// MoveTo, once: the command's number and how often it is done (4.3.1).
constexpr unsigned kMoveToOnce = (1U << 3U) | 1U;
constexpr unsigned kVersion = 2;
/// A layer's extent field: its head and 4096 as a varint.
constexpr std::size_t kExtentBytes = 3;

constexpr std::size_t kFirstSlots = 256;

}  // namespace

TileValues::TileValues() : slots_(kFirstSlots, 0) {}

std::string_view TileValues::value(const Entry& entry) const {
    return std::string_view{fields_}.substr(entry.begin, entry.length);
}

std::uint32_t TileValues::number_of(std::string_view wanted) {
    const std::uint64_t hash = std::hash<std::string_view>{}(wanted);
    std::size_t slot = hash & (slots_.size() - 1);
    while (slots_[slot] != 0) {
        const Entry& entry = entries_[slots_[slot] - 1];
        if (entry.hash == hash && value(entry) == wanted) {
            return slots_[slot] - 1;
        }
        slot = (slot + 1) & (slots_.size() - 1);
    }
    put_bytes_field(fields_, LayerField::value, wanted);
    entries_.push_back({static_cast<std::uint32_t>(fields_.size() - wanted.size()),
                        static_cast<std::uint32_t>(wanted.size()),
                        hash});
    slots_[slot] = static_cast<std::uint32_t>(entries_.size());
    if (entries_.size() * 2 > slots_.size()) {
        grow();
    }
    return static_cast<std::uint32_t>(entries_.size() - 1);
}

void TileValues::grow() {
    slots_.assign(slots_.size() * 2, 0);
    for (std::size_t i = 0; i < entries_.size(); ++i) {
        std::size_t slot = entries_[i].hash & (slots_.size() - 1);
        while (slots_[slot] != 0) {
            slot = (slot + 1) & (slots_.size() - 1);
        }
        slots_[slot] = static_cast<std::uint32_t>(i + 1);
    }
}

TileLayer::TileLayer(std::string_view layer, std::span<const std::string> keys)
    : keys_{keys}, key_numbers_(keys.size(), 0) {
    put_varint_field(head_, version, kVersion);
    put_bytes_field(head_, name, layer);
}

std::uint32_t TileLayer::key_number(std::uint32_t wanted) {
    std::uint32_t& number = key_numbers_[wanted];
    if (number == 0) {
        put_bytes_field(key_fields_, LayerField::key, keys_[wanted]);
        number = ++keys_used_;
    }
    return number - 1;
}

void TileLayer::add_point(TilePoint at,
                          std::optional<std::uint64_t> feature_id,
                          std::string_view packed) {
    tags_.clear();
    while (!packed.empty()) {
        const TileProperty property = take_property(packed);
        put_varint(tags_, key_number(property.key));
        put_varint(tags_, values_.number_of(property.value));
    }
    feature_.clear();
    if (feature_id) {
        put_varint_field(feature_, id, *feature_id);
    }
    if (!tags_.empty()) {
        put_bytes_field(feature_, FeatureField::tags, tags_);
    }
    put_varint_field(feature_, type, kPointType);
    tags_.clear();
    put_varint(tags_, kMoveToOnce);
    put_varint(tags_, zigzag(at.x));
    put_varint(tags_, zigzag(at.y));
    put_bytes_field(feature_, geometry, tags_);
    put_bytes_field(feature_fields_, LayerField::feature, feature_);
    ++features_;
}

std::size_t TileLayer::layer_bytes() const {
    return head_.size() + feature_fields_.size() + key_fields_.size() + values_.fields().size() +
           kExtentBytes;
}

std::size_t TileLayer::bytes() const {
    const std::size_t layer = layer_bytes();
    return 1 + varint_bytes(layer) + layer;
}

std::string TileLayer::tile() const {
    std::string layer;
    layer.reserve(layer_bytes());
    layer += head_;
    layer += feature_fields_;
    layer += key_fields_;
    layer += values_.fields();
    put_varint_field(layer, extent, kTileExtent);
    std::string out;
    out.reserve(bytes());
    put_bytes_field(out, kTileLayers, layer);
    return out;
}

std::size_t TileLayer::most_frame_bytes(std::string_view name, std::span<const std::string> keys) {
    constexpr std::size_t kHeads = 32;
    constexpr std::size_t kKeyHead = 4;
    std::size_t bytes = kHeads + name.size();
    for (const std::string& key : keys) {
        bytes += kKeyHead + key.size();
    }
    return bytes;
}

}  // namespace linewood
