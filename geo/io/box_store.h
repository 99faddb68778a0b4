#pragma once

// Private to geo/io: the boxes of a layer's rows until its index is built.

#include <cstdint>
#include <vector>

#include "geo/io/rtree_pack.hpp"

namespace linewood {

/// Holds the boxes of points in 8 bytes and two bits, and those of anything else in 16; 8 more where the
/// ids do not run on by one.
class BoxStore {
public:
    void reserve(std::size_t rows);
    void add(const IndexedBox& box);
    /// All boxes, as they were added; afterwards there are none.
    std::vector<IndexedBox> take();

private:
    struct Corner {
        float x = 0.0F;
        float y = 0.0F;
    };

    IndexedBox at(std::size_t i) const;
    Corner most(std::size_t i) const;

    std::int64_t first_id_ = 0;
    std::vector<std::int64_t> ids_;  ///< empty as long as they run on from the first
    std::vector<Corner> least_;
    std::vector<Corner> most_;   ///< empty as long as all are points
    std::vector<bool> x_wider_;  ///< the greatest x is the float next to the least; else the same
    std::vector<bool> y_wider_;
};

}  // namespace linewood
