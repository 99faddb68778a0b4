#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/cluster/worker_parts.hpp"
#include "geo/tiles/tile_rows.hpp"

namespace linewood {

/// What the tiles of one zoom show. Each pole is counted in the tile it lies in, so that
/// `kept + counted + left_out` is the number of poles, severity by severity.
struct ZoomTally {
    int zoom = 0;
    TileCounts kept{};      ///< poles that are there themselves
    TileCounts counted{};   ///< poles that a counted point stands for
    TileCounts left_out{};  ///< poles that are not shown
    std::uint64_t counted_points = 0;
    std::uint64_t tiles = 0;
    std::uint64_t bytes = 0;
    std::uint64_t largest_bytes = 0;

    /// Every pole stands there itself.
    bool complete() const;
};

/// Takes a finished tile; called by several threads at once, in no order.
using TileSink = std::function<void(const TileId& tile, std::string_view bytes)>;

/// Poles cut into the vector tiles of a zoom. The bytes of a tile depend on its poles and their numbers
/// only: not on their order, nor on the number of threads. Memory: 20 bytes a pole.
class TileCutter {
public:
    /// @param layer the layer's name in the tiles; poles and rows outlive this.
    TileCutter(std::string layer,
               std::span<const TilePole> poles,
               const TileRows& rows,
               TileLimits limits);

    /// Writes every tile that has a pole in it or in its buffer. Poles stand in a tile from the least grave to the
    /// gravest, which is so drawn on top; one within kTileBuffer of a border stands in the neighbour as well, where
    /// that has room.
    /// @pre 0 <= zoom <= kDeepestZoom
    /// @param stopped set where `keep_going` said no; the tally then counts for nothing
    ZoomTally cut(int zoom,
                  unsigned threads,
                  const TileSink& sink,
                  const KeepGoing& keep_going,
                  bool& stopped) const;

private:
    std::string layer_;
    std::span<const TilePole> poles_;
    const TileRows& rows_;
    TileLimits limits_;
    std::vector<std::uint32_t> ranks_;
    std::vector<std::uint32_t> by_tile_;  ///< the poles in the order of tile_order()
};

}  // namespace linewood
