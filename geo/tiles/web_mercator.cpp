#include "geo/tiles/web_mercator.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace linewood {
namespace {

constexpr int kWorldBits = 32;
constexpr double kWorld = 4294967296.0;  // 2^32
constexpr int kExtentBits = 12;          // kTileExtent

/// The units of a tile nearest to a coordinate of the world, kept inside the tile.
std::int32_t unit_in_tile(std::uint32_t world, int zoom) {
    const std::uint64_t tile_bits = static_cast<std::uint64_t>(kWorldBits - zoom);
    const std::uint64_t inside = world & ((std::uint64_t{1} << tile_bits) - 1);
    const std::uint64_t unit_bits = tile_bits - kExtentBits;
    const std::uint64_t half = unit_bits == 0 ? 0 : std::uint64_t{1} << (unit_bits - 1);
    return std::min(static_cast<std::int32_t>((inside + half) >> unit_bits), kTileExtent - 1);
}

/// The bits of a number with a free bit before each.
std::uint64_t spread_bits(std::uint32_t value) {
    std::uint64_t v = value;
    v = (v | (v << 16U)) & 0x0000FFFF0000FFFFU;
    v = (v | (v << 8U)) & 0x00FF00FF00FF00FFU;
    v = (v | (v << 4U)) & 0x0F0F0F0F0F0F0F0FU;
    v = (v | (v << 2U)) & 0x3333333333333333U;
    v = (v | (v << 1U)) & 0x5555555555555555U;
    return v;
}

std::uint32_t gather_bits(std::uint64_t value) {
    std::uint64_t v = value & 0x5555555555555555U;
    v = (v | (v >> 1U)) & 0x3333333333333333U;
    v = (v | (v >> 2U)) & 0x0F0F0F0F0F0F0F0FU;
    v = (v | (v >> 4U)) & 0x00FF00FF00FF00FFU;
    v = (v | (v >> 8U)) & 0x0000FFFF0000FFFFU;
    v = (v | (v >> 16U)) & 0x00000000FFFFFFFFU;
    return static_cast<std::uint32_t>(v);
}

}  // namespace

std::optional<WorldPlace> world_place(double longitude, double latitude) {
    if (!std::isfinite(longitude) || !std::isfinite(latitude) ||
        std::abs(latitude) > kMercatorLatitude) {
        return std::nullopt;
    }
    constexpr double kDegree = std::numbers::pi / 180.0;
    double round = (longitude + 180.0) / 360.0;
    round -= std::floor(round);
    const double south = 0.5 - std::asinh(std::tan(latitude * kDegree)) / (2.0 * std::numbers::pi);
    const auto to_world = [](double share) {
        return static_cast<std::uint32_t>(std::clamp(share * kWorld, 0.0, kWorld - 1.0));
    };
    return WorldPlace{round >= 1.0 ? 0U : to_world(round), to_world(south)};
}

TileId tile_of(WorldPlace place, int zoom) {
    const auto shift = static_cast<std::uint64_t>(kWorldBits - zoom);
    return TileId{zoom,
                  static_cast<std::uint32_t>(std::uint64_t{place.x} >> shift),
                  static_cast<std::uint32_t>(std::uint64_t{place.y} >> shift)};
}

TilePoint point_in_tile(WorldPlace place, int zoom) {
    return TilePoint{unit_in_tile(place.x, zoom), unit_in_tile(place.y, zoom)};
}

std::uint64_t tile_order(WorldPlace place) {
    return spread_bits(place.x) | (spread_bits(place.y) << 1U);
}

std::uint64_t tile_order(const TileId& tile) {
    const auto shift = static_cast<std::uint64_t>(kWorldBits - tile.zoom);
    return tile_order(WorldPlace{static_cast<std::uint32_t>(std::uint64_t{tile.x} << shift),
                                 static_cast<std::uint32_t>(std::uint64_t{tile.y} << shift)});
}

TileId tile_at(std::uint64_t order, int zoom) {
    return tile_of(WorldPlace{gather_bits(order), gather_bits(order >> 1U)}, zoom);
}

}  // namespace linewood
