#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>

#include "geo/tiles/web_mercator.hpp"

namespace linewood {

/// How grave a pole is: 0 the gravest, and the first to be drawn.
inline constexpr std::size_t kTileSeverities = 5;

/// A pole as tiles are cut: where it is, how grave, and its number among all features.
struct TilePole {
    WorldPlace place;
    std::uint8_t severity = 0;  ///< below kTileSeverities
    std::uint64_t id = 0;
};

/// Where the attributes of the poles come from. Asked by several threads at once.
class TileRows {
public:
    virtual ~TileRows() = default;
    TileRows() = default;
    TileRows(const TileRows&) = delete;
    TileRows& operator=(const TileRows&) = delete;

    virtual std::span<const std::string> keys() const = 0;
    /// What the pole takes of a tile of that zoom at most, as TileProperties::most_bytes().
    virtual std::size_t most_bytes(std::uint32_t pole, int zoom) const = 0;
    /// Its attributes at that zoom, packed.
    virtual void read(std::uint32_t pole, int zoom, std::string& packed) const = 0;
    /// Those of a point that stands for `count` of the gravest poles.
    virtual void read_counted(std::uint32_t count, std::string& packed) const = 0;
};

/// How large a tile may be.
struct TileLimits {
    std::size_t features = 20000;  ///< without those of the buffer
    std::size_t bytes = 500000;    ///< all of it
};

/// So many poles by severity.
using TileCounts = std::array<std::uint64_t, kTileSeverities>;

}  // namespace linewood
