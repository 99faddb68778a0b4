#pragma once

#include <compare>
#include <cstdint>
#include <optional>

namespace linewood {

/// A place on the square of web Mercator (EPSG:3857) as map tiles cut it up: x from longitude -180 eastward, y from
/// latitude 85.0511 southward, in 2^32ths of the square (9 mm at the equator).
struct WorldPlace {
    std::uint32_t x = 0;
    std::uint32_t y = 0;

    friend auto operator<=>(WorldPlace, WorldPlace) = default;
};

/// The latitude at which the square ends, degrees: atan(sinh(pi)) (computed).
inline constexpr double kMercatorLatitude = 85.05112877980659;

/// Nothing where a coordinate is not finite or the latitude is beyond kMercatorLatitude. Longitudes are taken
/// round the Earth: 180 is -180, 190 is -170.
/// @param longitude degrees on WGS 84, as is `latitude`
std::optional<WorldPlace> world_place(double longitude, double latitude);

/// Tiles are squares of so many units (MVT's extent); features go this far beyond their borders.
inline constexpr std::int32_t kTileExtent = 4096;
inline constexpr std::int32_t kTileBuffer = 64;
/// Beyond this zoom a unit of a tile is finer than a WorldPlace.
inline constexpr int kDeepestZoom = 20;

/// A tile by zoom, column from the west and row from the north.
struct TileId {
    int zoom = 0;
    std::uint32_t x = 0;
    std::uint32_t y = 0;

    friend auto operator<=>(const TileId&, const TileId&) = default;
};

/// A place in a tile, in units from its north-west corner.
struct TilePoint {
    std::int32_t x = 0;
    std::int32_t y = 0;

    friend auto operator<=>(const TilePoint&, const TilePoint&) = default;
};

/// The tile that holds a place: its western and northern borders are its own. @pre 0 <= zoom <= kDeepestZoom
TileId tile_of(WorldPlace place, int zoom);

/// The nearest unit in that tile, from 0 to kTileExtent - 1, so that a place on a border stays in one tile.
TilePoint point_in_tile(WorldPlace place, int zoom);

/// The bits of x and y by turns: places in this order are in the order of their tiles at every zoom.
std::uint64_t tile_order(WorldPlace place);

/// Where tiles of that zoom stand in that order: tile_order of their places without the bits below the tile.
std::uint64_t tile_order(const TileId& tile);

/// The reverse.
TileId tile_at(std::uint64_t order, int zoom);

}  // namespace linewood
