#include "geo/tiles/tile_selection.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

#include "geo/tiles/tile_layer.hpp"

namespace linewood {
namespace {

/// Of a tile's bytes the eighth part is kept for the poles of its buffer (own choice: these are 6 in 100 where poles
/// lie evenly, and more along a border).
constexpr std::size_t kBufferShare = 8;
/// The finest grid of counted points, cells a side (own choice: 4 pixels of a tile drawn with 256).
constexpr std::uint32_t kFinestGrid = 64;
/// What a counted point, or a pole that stands alone in its cell, may take of a tile (own choice: enough for an id
/// of 40 letters and a verdict).
constexpr std::size_t kCellBytes = 110;

/// Bits of a place mixed so that poles in this order lie all over the map (the finaliser of splitmix64, public
/// domain, from memory).
std::uint64_t scattered(WorldPlace place) {
    std::uint64_t v = (std::uint64_t{place.x} << 32U) | place.y;
    v = (v ^ (v >> 30U)) * 0xBF58476D1CE4E5B9U;
    v = (v ^ (v >> 27U)) * 0x94D049BB133111EBU;
    return v ^ (v >> 31U);
}

/// The gravest poles of one cell of a grid.
struct Cell {
    std::uint32_t first = 0;  ///< its first pole
    std::uint32_t count = 0;
    std::uint64_t x = 0;  ///< sums of the places in the tile
    std::uint64_t y = 0;
};

}  // namespace

std::vector<std::uint32_t> tile_ranks(std::span<const TilePole> poles) {
    std::vector<std::uint32_t> order(poles.size());
    std::iota(order.begin(), order.end(), 0U);
    const auto key = [&](std::uint32_t pole) {
        const TilePole& p = poles[pole];
        return std::tuple{p.severity, scattered(p.place), p.id};
    };
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return key(a) < key(b);
    });
    std::vector<std::uint32_t> ranks(poles.size());
    for (std::uint32_t i = 0; i < order.size(); ++i) {
        ranks[order[i]] = i;
    }
    return ranks;
}

TileSelector::TileSelector(std::string_view layer,
                           std::span<const TilePole> poles,
                           std::span<const std::uint32_t> ranks,
                           const TileRows& rows,
                           TileLimits limits)
    : layer_{layer}, poles_{poles}, ranks_{ranks}, rows_{rows}, limits_{limits} {
    const std::size_t frame = TileLayer::most_frame_bytes(layer, rows.keys());
    const std::size_t whole = limits.bytes - limits.bytes / kBufferShare;
    own_bytes_ = whole > frame ? whole - frame : 0;
}

bool TileSelector::all_fit(std::span<const std::uint32_t> members, int zoom) const {
    if (members.size() > limits_.features) {
        return false;
    }
    std::size_t bytes = 0;
    for (const std::uint32_t pole : members) {
        bytes += rows_.most_bytes(pole, zoom);
    }
    return bytes <= own_bytes_;
}

std::uint32_t TileSelector::grid_side() const {
    // The gravest take half of a tile at most.
    const std::size_t cells = std::min(limits_.features / 2, own_bytes_ / 2 / kCellBytes);
    std::uint32_t side = kFinestGrid;
    while (side > 1 && std::size_t{side} * side > cells) {
        side /= 2;
    }
    return side;
}

bool TileSelector::shown_alone(std::uint32_t pole, int zoom) const {
    return rows_.most_bytes(pole, zoom) <= kCellBytes;
}

std::size_t TileSelector::count_gravest(std::span<const std::uint32_t> sorted,
                                        int zoom,
                                        TileSelection& out) const {
    const std::uint32_t side = grid_side();
    const auto cell_units = static_cast<std::uint32_t>(kTileExtent) / side;
    std::vector<Cell> cells(std::size_t{side} * side);
    std::size_t gravest = 0;
    for (; gravest < sorted.size() && poles_[sorted[gravest]].severity == 0; ++gravest) {
        const TilePoint at = point_in_tile(poles_[sorted[gravest]].place, zoom);
        const auto x = static_cast<std::uint32_t>(at.x);
        const auto y = static_cast<std::uint32_t>(at.y);
        Cell& cell = cells[std::size_t{y / cell_units} * side + x / cell_units];
        if (cell.count == 0) {
            cell.first = sorted[gravest];
        }
        ++cell.count;
        cell.x += x;
        cell.y += y;
    }
    for (const Cell& cell : cells) {
        if (cell.count == 1 && shown_alone(cell.first, zoom)) {
            out.kept.push_back(cell.first);
        } else if (cell.count > 0) {
            out.counted.push_back({TilePoint{static_cast<std::int32_t>(cell.x / cell.count),
                                             static_cast<std::int32_t>(cell.y / cell.count)},
                                   cell.count});
        }
    }
    return gravest;
}

std::unique_ptr<TileSelection> TileSelector::select(std::span<const std::uint32_t> members,
                                                    int zoom) const {
    if (all_fit(members, zoom)) {
        return nullptr;
    }
    std::vector<std::uint32_t> sorted(members.begin(), members.end());
    std::sort(sorted.begin(), sorted.end(), [&](std::uint32_t a, std::uint32_t b) {
        return ranks_[a] < ranks_[b];
    });
    TileLayer tried{layer_, rows_.keys()};
    std::string packed;
    std::size_t next = 0;
    auto chosen = std::make_unique<TileSelection>();
    const auto take_while_they_fit = [&] {
        while (next < sorted.size() && tried.features() < limits_.features &&
               tried.bytes() + rows_.most_bytes(sorted[next], zoom) <= own_bytes_) {
            rows_.read(sorted[next], zoom, packed);
            tried.add_point(
                point_in_tile(poles_[sorted[next]].place, zoom), poles_[sorted[next]].id, packed);
            chosen->kept.push_back(sorted[next++]);
        }
    };
    take_while_they_fit();
    if (next == sorted.size()) {
        return nullptr;
    }
    if (poles_[sorted[next]].severity != 0) {
        return chosen;
    }
    *chosen = {};
    next = count_gravest(sorted, zoom, *chosen);
    tried = TileLayer{layer_, rows_.keys()};
    for (const std::uint32_t pole : chosen->kept) {
        rows_.read(pole, zoom, packed);
        tried.add_point(point_in_tile(poles_[pole].place, zoom), poles_[pole].id, packed);
    }
    for (const CountedPoint& point : chosen->counted) {
        rows_.read_counted(point.count, packed);
        tried.add_point(point.at, std::nullopt, packed);
    }
    take_while_they_fit();
    return chosen;
}

}  // namespace linewood
