#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_source.hpp"

namespace linewood {

/// The neighbours of every pole in compact rows, without the pole itself, each row by distance, then
/// index. 16 bytes a neighbour.
class NeighbourRows {
public:
    std::size_t size() const { return first_.size() - 1; }
    std::span<const Near> row(std::size_t pole) const {
        return {near_.data() + first_[pole], near_.data() + first_[pole + 1]};
    }
    /// Where the row begins among all neighbours, for figures kept beside them.
    std::size_t begin_of(std::size_t pole) const { return first_[pole]; }
    std::size_t neighbour_count() const { return near_.size(); }

    /// Adds a neighbour to the row that is being made.
    void add(Near neighbour) { near_.push_back(neighbour); }
    void end_row() { first_.push_back(near_.size()); }

private:
    std::vector<std::size_t> first_{0};
    std::vector<Near> near_;
};

/// The k nearest others of every pole; of those at the same distance the lower indexes. Fewer where
/// no more can be reached.
NeighbourRows nearest_rows(const NeighbourSource& source, std::size_t k);

/// All others within a distance, inclusive (to the micrometre). @pre metres >= 0
NeighbourRows band_rows(const NeighbourSource& source, double metres);

}  // namespace linewood
