#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace linewood {

/// One indexed feature: 24 bytes. After packing, `leaf` has taken the place of the box.
struct IndexedBox {
    std::int64_t id = 0;
    float min_x = 0.0F;
    float max_x = 0.0F;
    float min_y = 0.0F;
    float max_y = 0.0F;
};

/// A box of doubles as the index holds it: rounded outward to float, so that it never lies inside.
IndexedBox indexed_box(std::int64_t id, double min_x, double max_x, double min_y, double max_y);

/// Receives an R*Tree table's content, in the order in which its b-trees like to be filled.
struct RtreeSink {
    /// A node's blob, as SQLite's rtree module stores it.
    std::function<void(std::int64_t node, const std::string& blob)> node;
    std::function<void(std::int64_t node, std::int64_t parent)> parent;
    std::function<void(std::int64_t id, std::int64_t node)> rowid;
};

/// Packs boxes into the nodes of a two-dimensional SQLite R*Tree with 32-bit coordinates (the format in the
/// comment at the head of SQLite's rtree module): sort-tile-recursive order (Leutenegger, Lopez, Edgington
/// 1997), nodes filled evenly. Node 1 is the root. About 0.25 us a box besides the sink.
///
/// @param boxes are reordered and overwritten: no second copy is made.
/// @param node_bytes the blob size the table uses (1228 for pages of 4096 bytes).
/// @pre boxes are finite; ids differ; node_bytes >= 4 + 3 * 24.
void pack_rtree(std::vector<IndexedBox>& boxes, std::size_t node_bytes, const RtreeSink& sink);

}  // namespace linewood
