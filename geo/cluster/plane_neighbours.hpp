#pragma once

#include <span>

#include "geo/cluster/neighbour_source.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// Straight-line distance in a plane, by a k-d tree: neither an outlier far away nor a dense town
/// spoils it. Cost of a search for k poles: about 100 ns for each. About 40 bytes
/// a pole.
class PlaneNeighbours : public NeighbourSource {
public:
    /// @param poles in metres of a projected coordinate system, finite. Degrees are not metres: the
    ///        caller projects first.
    explicit PlaneNeighbours(std::span<const Point> poles);

    std::size_t pole_count() const override { return items_.size(); }
    std::unique_ptr<NeighbourSearch> search() const override;
    std::vector<std::uint32_t> layout() const override;

private:
    friend class PlaneSearch;
    struct Item {
        Point at;
        std::uint32_t pole = 0;
    };
    struct Node {
        Point low;
        Point high;
        std::uint32_t begin = 0;  ///< of its items
        std::uint32_t end = 0;
        std::uint32_t right = 0;  ///< its second child, the first follows it; 0 = a leaf
    };

    std::uint32_t build(std::uint32_t begin, std::uint32_t end);

    std::vector<Item> items_;
    std::vector<std::uint32_t> item_of_;  ///< of each pole
    std::vector<Node> nodes_;
};

}  // namespace linewood
