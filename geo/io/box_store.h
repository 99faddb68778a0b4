#pragma once

// Private to geo/io: the boxes of a layer's rows until its index is built.

#include <cstdint>
#include <vector>

#include "geo/io/rtree_pack.hpp"

namespace linewood {

/// Holds the boxes of points in 8 bytes and two bits, and those of anything else in 16; 16 more for each
/// id that is not one more than the one before.
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

    /// Ids that rise by one from row to row, up to where the next run begins.
    struct IdRun {
        std::size_t begin = 0;
        std::int64_t first_id = 0;

        std::int64_t id_of(std::size_t row) const {
            return static_cast<std::int64_t>(static_cast<std::uint64_t>(first_id) + (row - begin));
        }
    };

    void add_id(std::int64_t id);
    Corner most(std::size_t i) const;

    std::vector<IdRun> id_runs_;
    std::vector<Corner> least_;
    std::vector<Corner> most_;   ///< empty as long as all are points
    std::vector<bool> x_wider_;  ///< the greatest x is the float next to the least; else the same
    std::vector<bool> y_wider_;
};

}  // namespace linewood
