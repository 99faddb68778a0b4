#include "geo/io/rtree_pack.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <limits>

namespace linewood {
namespace {

constexpr std::size_t kHeadBytes = 4;   // depth and cell count, 16 bits each
constexpr std::size_t kCellBytes = 24;  // id and four floats

float rounded_down(double v) {
    const auto f = static_cast<float>(v);
    return static_cast<double>(f) > v ? std::nextafter(f, -std::numeric_limits<float>::infinity())
                                      : f;
}

float rounded_up(double v) {
    const auto f = static_cast<float>(v);
    return static_cast<double>(f) < v ? std::nextafter(f, std::numeric_limits<float>::infinity())
                                      : f;
}

void put_big_endian(std::string& out, std::uint64_t value, int bytes) {
    for (int shift = (bytes - 1) * 8; shift >= 0; shift -= 8) {
        out += static_cast<char>((value >> static_cast<unsigned>(shift)) & 0xFFU);
    }
}

void put_cell(std::string& out, const IndexedBox& box) {
    put_big_endian(out, static_cast<std::uint64_t>(box.id), 8);
    for (const float f : {box.min_x, box.max_x, box.min_y, box.max_y}) {
        put_big_endian(out, std::bit_cast<std::uint32_t>(f), 4);
    }
}

float middle_x(const IndexedBox& b) { return b.min_x * 0.5F + b.max_x * 0.5F; }
float middle_y(const IndexedBox& b) { return b.min_y * 0.5F + b.max_y * 0.5F; }

IndexedBox cover(const IndexedBox* first, const IndexedBox* last, std::int64_t id) {
    IndexedBox all = *first;
    all.id = id;
    for (const IndexedBox* b = first + 1; b != last; ++b) {
        all.min_x = std::min(all.min_x, b->min_x);
        all.max_x = std::max(all.max_x, b->max_x);
        all.min_y = std::min(all.min_y, b->min_y);
        all.max_y = std::max(all.max_y, b->max_y);
    }
    return all;
}

/// `count` things dealt evenly to `groups`: where group `g` begins.
std::size_t begin_of(std::size_t g, std::size_t count, std::size_t groups) {
    // g * count fits: a billion features in twenty million nodes is 2e16.
    return g * count / groups;
}

/// Slices by x, each sorted by y, so that neighbours in the row of boxes are neighbours in the plane.
void tile(std::vector<IndexedBox>& boxes, std::size_t nodes) {
    const auto slices = static_cast<std::size_t>(std::ceil(std::sqrt(static_cast<double>(nodes))));
    const auto at = [&](std::size_t i) { return boxes.begin() + static_cast<std::ptrdiff_t>(i); };
    std::sort(boxes.begin(), boxes.end(), [](const IndexedBox& a, const IndexedBox& b) {
        const float ax = middle_x(a);
        const float bx = middle_x(b);
        return ax != bx ? ax < bx : a.id < b.id;
    });
    for (std::size_t s = 0; s < slices; ++s) {
        const std::size_t first_node = begin_of(s, nodes, slices);
        const std::size_t end_node = begin_of(s + 1, nodes, slices);
        std::sort(at(begin_of(first_node, boxes.size(), nodes)),
                  at(begin_of(end_node, boxes.size(), nodes)),
                  [](const IndexedBox& a, const IndexedBox& b) {
                      const float ay = middle_y(a);
                      const float by = middle_y(b);
                      return ay != by ? ay < by : a.id < b.id;
                  });
    }
}

std::string node_blob(const IndexedBox* first,
                      const IndexedBox* last,
                      std::size_t node_bytes,
                      int depth) {
    std::string blob;
    blob.reserve(node_bytes);
    put_big_endian(blob, static_cast<std::uint64_t>(depth), 2);
    put_big_endian(blob, static_cast<std::uint64_t>(last - first), 2);
    for (const IndexedBox* b = first; b != last; ++b) {
        put_cell(blob, *b);
    }
    blob.resize(node_bytes, '\0');
    return blob;
}

std::size_t nodes_for(std::size_t cells, std::size_t per_node) {
    return (cells + per_node - 1) / per_node;
}

/// One level: packs `cells` into nodes numbered from `first_node`, and gives a cell for each of them.
/// @pre the cells are in tile order.
std::vector<IndexedBox> pack_level(const std::vector<IndexedBox>& cells,
                                   std::size_t nodes,
                                   std::int64_t first_node,
                                   std::size_t node_bytes,
                                   const RtreeSink& sink) {
    std::vector<IndexedBox> above;
    above.reserve(nodes);
    for (std::size_t n = 0; n < nodes; ++n) {
        const IndexedBox* first = cells.data() + begin_of(n, cells.size(), nodes);
        const IndexedBox* last = cells.data() + begin_of(n + 1, cells.size(), nodes);
        const std::int64_t number = first_node + static_cast<std::int64_t>(n);
        sink.node(number, node_blob(first, last, node_bytes, 0));
        above.push_back(cover(first, last, number));
    }
    return above;
}

/// After a leaf is written its cells' boxes are done with: the leaf's number goes into the first
/// two floats, and the cells into the order of their ids.
void put_leaf_numbers(std::vector<IndexedBox>& boxes, std::size_t nodes, std::int64_t first_node) {
    for (std::size_t n = 0; n < nodes; ++n) {
        const auto number = static_cast<std::uint64_t>(first_node) + n;
        for (std::size_t i = begin_of(n, boxes.size(), nodes);
             i < begin_of(n + 1, boxes.size(), nodes);
             ++i) {
            boxes[i].min_x = std::bit_cast<float>(static_cast<std::uint32_t>(number >> 32U));
            boxes[i].max_x = std::bit_cast<float>(static_cast<std::uint32_t>(number));
        }
    }
    std::sort(boxes.begin(), boxes.end(), [](const IndexedBox& a, const IndexedBox& b) {
        return a.id < b.id;
    });
}

std::int64_t leaf_number(const IndexedBox& box) {
    return static_cast<std::int64_t>(
        (std::uint64_t{std::bit_cast<std::uint32_t>(box.min_x)} << 32U) |
        std::bit_cast<std::uint32_t>(box.max_x));
}

}  // namespace

IndexedBox indexed_box(std::int64_t id, double min_x, double max_x, double min_y, double max_y) {
    return {id, rounded_down(min_x), rounded_up(max_x), rounded_down(min_y), rounded_up(max_y)};
}

void pack_rtree(std::vector<IndexedBox>& boxes, std::size_t node_bytes, const RtreeSink& sink) {
    const std::size_t per_node = (node_bytes - kHeadBytes) / kCellBytes;
    assert(per_node >= 3);
    constexpr std::int64_t kRoot = 1;
    if (boxes.size() <= per_node) {
        sink.node(kRoot, node_blob(boxes.data(), boxes.data() + boxes.size(), node_bytes, 0));
        put_leaf_numbers(boxes, 1, kRoot);
        for (const IndexedBox& box : boxes) {
            sink.rowid(box.id, kRoot);
        }
        return;
    }

    // Level by level from the leaves; numbers run on from 2, the root is 1.
    const std::size_t leaves = nodes_for(boxes.size(), per_node);
    tile(boxes, leaves);
    std::int64_t next = 2;
    std::vector<IndexedBox> level = pack_level(boxes, leaves, next, node_bytes, sink);
    put_leaf_numbers(boxes, leaves, next);
    next += static_cast<std::int64_t>(leaves);

    std::vector<std::pair<std::int64_t, std::int64_t>> parents;
    int depth = 1;
    while (level.size() > per_node) {
        const std::size_t nodes = nodes_for(level.size(), per_node);
        tile(level, nodes);
        for (std::size_t n = 0; n < nodes; ++n) {
            for (std::size_t i = begin_of(n, level.size(), nodes);
                 i < begin_of(n + 1, level.size(), nodes);
                 ++i) {
                parents.emplace_back(level[i].id, next + static_cast<std::int64_t>(n));
            }
        }
        level = pack_level(level, nodes, next, node_bytes, sink);
        next += static_cast<std::int64_t>(nodes);
        ++depth;
    }
    for (const IndexedBox& cell : level) {
        parents.emplace_back(cell.id, kRoot);
    }
    sink.node(kRoot, node_blob(level.data(), level.data() + level.size(), node_bytes, depth));

    std::sort(parents.begin(), parents.end());
    for (const auto& [child, parent] : parents) {
        sink.parent(child, parent);
    }
    for (const IndexedBox& box : boxes) {
        sink.rowid(box.id, leaf_number(box));
    }
}

}  // namespace linewood
