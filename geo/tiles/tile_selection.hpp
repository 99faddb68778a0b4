#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "geo/tiles/tile_rows.hpp"

namespace linewood {

/// A point that stands for several of the gravest poles, in the middle of them.
struct CountedPoint {
    TilePoint at;
    std::uint32_t count = 0;
};

/// What a tile shows where it cannot show all.
struct TileSelection {
    std::vector<std::uint32_t> kept;  ///< poles that stand there themselves
    std::vector<CountedPoint> counted;
};

/// Chooses what of the poles of one tile is shown: the gravest first, those of one severity in an order that
/// spreads them over the tile, as many as the limits let in. Where not even the gravest all fit, they are counted
/// by the cells of a grid: a cell with one pole shows it (where its attributes are few), one with more a point with
/// their number; so each of the gravest is shown or counted at every zoom.
class TileSelector {
public:
    /// @param ranks of the poles in that order, each its own; all spans outlive this.
    TileSelector(std::string_view layer,
                 std::span<const TilePole> poles,
                 std::span<const std::uint32_t> ranks,
                 const TileRows& rows,
                 TileLimits limits);

    /// Nothing where all fit. @param members the poles of the tile
    std::unique_ptr<TileSelection> select(std::span<const std::uint32_t> members, int zoom) const;

    /// What the tile's own poles may take at most; the rest of the limit is for those of the buffer.
    std::size_t own_bytes() const { return own_bytes_; }

private:
    bool all_fit(std::span<const std::uint32_t> members, int zoom) const;
    /// Counts the gravest by cells. @return how many of the front of `sorted` that were
    std::size_t count_gravest(std::span<const std::uint32_t> sorted,
                              int zoom,
                              TileSelection& out) const;
    bool shown_alone(std::uint32_t pole, int zoom) const;
    std::uint32_t grid_side() const;

    std::string layer_;
    std::span<const TilePole> poles_;
    std::span<const std::uint32_t> ranks_;
    const TileRows& rows_;
    TileLimits limits_;
    std::size_t own_bytes_;
};

/// Ranks by severity, then spread evenly over the map, whatever the order of the poles.
std::vector<std::uint32_t> tile_ranks(std::span<const TilePole> poles);

}  // namespace linewood
