#include "geo/tiles/tile_zoom.hpp"

#include <algorithm>
#include <memory>
#include <numeric>
#include <optional>
#include <utility>

#include "geo/tiles/tile_layer.hpp"
#include "geo/tiles/tile_selection.hpp"

namespace linewood {
namespace {

/// A tile that has poles of its own: a stretch of the poles in the order of their tiles.
struct OwnTile {
    std::uint64_t order = 0;  ///< tile_order()
    std::size_t begin = 0;
    std::size_t end = 0;
    std::unique_ptr<TileSelection> selection;  ///< nothing: all are shown
};

/// A pole in the buffer of a tile that is not its own.
struct BufferPole {
    std::uint64_t order = 0;  ///< of the tile
    std::uint32_t rank = 0;
    std::uint32_t pole = 0;
    TilePoint at;
};

/// What one tile is written from.
struct TileWork {
    std::uint64_t order = 0;
    const OwnTile* own = nullptr;  ///< nothing: only its buffer has poles
    std::span<const BufferPole> buffer;
};

/// One feature to be written.
struct Placed {
    std::uint32_t rank = 0;
    std::uint32_t pole = 0;
    TilePoint at;
};

/// Cuts one zoom.
class ZoomCut {
public:
    struct Parts {
        const std::string& layer;
        std::span<const TilePole> poles;
        std::span<const std::uint32_t> ranks;
        std::span<const std::uint32_t> by_tile;
        const TileRows& rows;
        TileLimits limits;
    };

    ZoomCut(const Parts& parts, int zoom)
        : parts_{parts},
          zoom_{zoom},
          selector_{parts.layer, parts.poles, parts.ranks, parts.rows, parts.limits} {
        find_tiles();
    }

    bool select(unsigned threads, const KeepGoing& keep_going) {
        return do_parts(tiles_.size(), threads, keep_going, [&](unsigned, std::size_t part) {
            OwnTile& tile = tiles_[part];
            tile.selection = selector_.select(members(tile), zoom_);
        });
    }

    /// Once all is selected: who stands in whose buffer. A pole that its own tile leaves out is in no other.
    void find_buffers() {
        for (const OwnTile& tile : tiles_) {
            const TileId id = tile_at(tile.order, zoom_);
            for (const std::uint32_t pole : shown(tile)) {
                add_to_neighbours(id, pole);
            }
        }
        std::sort(buffers_.begin(), buffers_.end(), [](const BufferPole& a, const BufferPole& b) {
            return std::pair{a.order, a.rank} < std::pair{b.order, b.rank};
        });
        list_work();
    }

    bool write(unsigned threads, const TileSink& sink, const KeepGoing& keep_going) {
        sizes_.resize(work_.size());
        return do_parts(work_.size(), threads, keep_going, [&](unsigned, std::size_t part) {
            const std::string bytes = tile_bytes(work_[part]);
            sizes_[part] = bytes.size();
            sink(tile_at(work_[part].order, zoom_), bytes);
        });
    }

    ZoomTally tally() const {
        ZoomTally tally;
        tally.zoom = zoom_;
        for (const OwnTile& tile : tiles_) {
            TileCounts left{};
            for (const std::uint32_t pole : members(tile)) {
                ++left[parts_.poles[pole].severity];
            }
            for (const std::uint32_t pole : shown(tile)) {
                --left[parts_.poles[pole].severity];
                ++tally.kept[parts_.poles[pole].severity];
            }
            if (tile.selection) {
                tally.counted_points += tile.selection->counted.size();
                for (const CountedPoint& point : tile.selection->counted) {
                    left[0] -= point.count;
                    tally.counted[0] += point.count;
                }
            }
            for (std::size_t i = 0; i < left.size(); ++i) {
                tally.left_out[i] += left[i];
            }
        }
        tally.tiles = work_.size();
        for (const std::uint64_t bytes : sizes_) {
            tally.bytes += bytes;
            tally.largest_bytes = std::max(tally.largest_bytes, bytes);
        }
        return tally;
    }

private:
    std::span<const std::uint32_t> members(const OwnTile& tile) const {
        return parts_.by_tile.subspan(tile.begin, tile.end - tile.begin);
    }
    std::span<const std::uint32_t> shown(const OwnTile& tile) const {
        return tile.selection ? std::span<const std::uint32_t>{tile.selection->kept}
                              : members(tile);
    }
    std::uint64_t order_of(std::uint32_t pole) const {
        return tile_order(tile_of(parts_.poles[pole].place, zoom_));
    }

    void find_tiles() {
        for (std::size_t i = 0; i < parts_.by_tile.size(); ++i) {
            const std::uint64_t order = order_of(parts_.by_tile[i]);
            if (tiles_.empty() || tiles_.back().order != order) {
                tiles_.push_back(OwnTile{order, i, i, nullptr});
            }
            tiles_.back().end = i + 1;
        }
    }

    void add_to_neighbours(const TileId& own, std::uint32_t pole) {
        const TilePoint at = point_in_tile(parts_.poles[pole].place, zoom_);
        const auto side = [](std::int32_t unit) {
            return unit < kTileBuffer ? -1 : unit >= kTileExtent - kTileBuffer ? 1 : 0;
        };
        const std::int32_t dx = side(at.x);
        const std::int32_t dy = side(at.y);
        if (dx != 0) {
            add_buffer_pole(own, pole, dx, 0);
        }
        if (dy != 0) {
            add_buffer_pole(own, pole, 0, dy);
        }
        if (dx != 0 && dy != 0) {
            add_buffer_pole(own, pole, dx, dy);
        }
    }

    void add_buffer_pole(const TileId& own, std::uint32_t pole, std::int32_t dx, std::int32_t dy);
    void list_work();
    std::string tile_bytes(const TileWork& work) const;
    std::vector<Placed> placed(const TileWork& work) const;

    Parts parts_;
    int zoom_;
    TileSelector selector_;
    std::vector<OwnTile> tiles_;
    std::vector<BufferPole> buffers_;
    std::vector<TileWork> work_;
    std::vector<std::uint64_t> sizes_;
};

/// West of the first column is the last one; north of the first row is nothing. Of the whole world in one tile the
/// neighbour is the tile itself, which needs no second pole.
void ZoomCut::add_buffer_pole(const TileId& own,
                              std::uint32_t pole,
                              std::int32_t dx,
                              std::int32_t dy) {
    const std::int64_t side = std::int64_t{1} << zoom_;
    const std::int64_t x = (std::int64_t{own.x} + dx + side) % side;
    const std::int64_t y = std::int64_t{own.y} + dy;
    if (zoom_ == 0 || y < 0 || y >= side) {
        return;
    }
    const TileId to{zoom_, static_cast<std::uint32_t>(x), static_cast<std::uint32_t>(y)};
    TilePoint at = point_in_tile(parts_.poles[pole].place, zoom_);
    at.x -= dx * kTileExtent;
    at.y -= dy * kTileExtent;
    buffers_.push_back(BufferPole{tile_order(to), parts_.ranks[pole], pole, at});
}

void ZoomCut::list_work() {
    std::size_t next = 0;
    const auto take_buffer = [&](std::uint64_t order) {
        const std::size_t begin = next;
        while (next < buffers_.size() && buffers_[next].order == order) {
            ++next;
        }
        return std::span<const BufferPole>{buffers_}.subspan(begin, next - begin);
    };
    const auto take_before = [&](const OwnTile* tile) {
        while (next < buffers_.size() && (tile == nullptr || buffers_[next].order < tile->order)) {
            const std::uint64_t order = buffers_[next].order;
            work_.push_back(TileWork{order, nullptr, take_buffer(order)});
        }
    };
    for (const OwnTile& tile : tiles_) {
        take_before(&tile);
        work_.push_back(TileWork{tile.order, &tile, take_buffer(tile.order)});
    }
    take_before(nullptr);
}

/// Its own poles and, the gravest first, as many of the buffer as there is room for.
std::vector<Placed> ZoomCut::placed(const TileWork& work) const {
    std::vector<Placed> out;
    std::size_t bytes = parts_.limits.bytes;
    if (work.own != nullptr) {
        std::size_t own = 0;
        for (const std::uint32_t pole : shown(*work.own)) {
            out.push_back(
                {parts_.ranks[pole], pole, point_in_tile(parts_.poles[pole].place, zoom_)});
            own += parts_.rows.most_bytes(pole, zoom_);
        }
        // What was tried to fit did so by its true size, which is less.
        bytes -= std::min(bytes, own <= selector_.own_bytes() ? own : selector_.own_bytes());
    }
    const std::size_t frame = TileLayer::most_frame_bytes(parts_.layer, parts_.rows.keys());
    bytes -= std::min(bytes, frame);
    for (const BufferPole& pole : work.buffer) {
        const std::size_t needed = parts_.rows.most_bytes(pole.pole, zoom_);
        if (needed > bytes) {
            break;
        }
        bytes -= needed;
        out.push_back({pole.rank, pole.pole, pole.at});
    }
    std::sort(
        out.begin(), out.end(), [](const Placed& a, const Placed& b) { return a.rank > b.rank; });
    return out;
}

std::string ZoomCut::tile_bytes(const TileWork& work) const {
    TileLayer layer{parts_.layer, parts_.rows.keys()};
    std::string packed;
    for (const Placed& point : placed(work)) {
        parts_.rows.read(point.pole, zoom_, packed);
        layer.add_point(point.at, parts_.poles[point.pole].id, packed);
    }
    if (work.own != nullptr && work.own->selection) {
        for (const CountedPoint& point : work.own->selection->counted) {
            parts_.rows.read_counted(point.count, packed);
            layer.add_point(point.at, std::nullopt, packed);
        }
    }
    return layer.tile();
}

}  // namespace

bool ZoomTally::complete() const {
    const auto none = [](const TileCounts& counts) {
        return std::all_of(counts.begin(), counts.end(), [](std::uint64_t n) { return n == 0; });
    };
    return none(counted) && none(left_out);
}

TileCutter::TileCutter(std::string layer,
                       std::span<const TilePole> poles,
                       const TileRows& rows,
                       TileLimits limits)
    : layer_{std::move(layer)},
      poles_{poles},
      rows_{rows},
      limits_{limits},
      ranks_{tile_ranks(poles)},
      by_tile_(poles.size()) {
    std::vector<std::uint64_t> order(poles.size());
    std::transform(poles.begin(), poles.end(), order.begin(), [](const TilePole& pole) {
        return tile_order(pole.place);
    });
    std::iota(by_tile_.begin(), by_tile_.end(), 0U);
    std::sort(by_tile_.begin(), by_tile_.end(), [&](std::uint32_t a, std::uint32_t b) {
        return std::pair{order[a], ranks_[a]} < std::pair{order[b], ranks_[b]};
    });
}

ZoomTally TileCutter::cut(int zoom,
                          unsigned threads,
                          const TileSink& sink,
                          const KeepGoing& keep_going,
                          bool& stopped) const {
    ZoomCut cut{ZoomCut::Parts{layer_, poles_, ranks_, by_tile_, rows_, limits_}, zoom};
    const KeepGoing first_half = [&](double done) { return !keep_going || keep_going(done / 2.0); };
    const KeepGoing second_half = [&](double done) {
        return !keep_going || keep_going(0.5 + done / 2.0);
    };
    stopped = !cut.select(threads, first_half);
    if (stopped) {
        return {};
    }
    cut.find_buffers();
    stopped = !cut.write(threads, sink, second_half);
    return stopped ? ZoomTally{} : cut.tally();
}

}  // namespace linewood
