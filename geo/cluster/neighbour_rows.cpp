#include "geo/cluster/neighbour_rows.hpp"

#include <algorithm>

namespace linewood {
namespace {

NeighbourRows rows_within(const NeighbourSource& source, Reach reach, std::size_t most) {
    NeighbourRows rows;
    const auto search = source.search();
    std::vector<Near> found;
    for (std::uint32_t pole = 0; pole < source.pole_count(); ++pole) {
        search->nearest(pole, reach, found);
        std::size_t taken = 0;
        for (const Near& near : found) {
            if (near.pole != pole && taken < most) {
                rows.add(near);
                ++taken;
            }
        }
        rows.end_row();
    }
    return rows;
}

}  // namespace

NeighbourRows nearest_rows(const NeighbourSource& source, std::size_t k) {
    const std::size_t most = std::min(k, source.pole_count());
    // One more: the pole itself, unless so many others stand on its very place before it.
    return rows_within(source, {most + 1, Reach{}.um}, most);
}

NeighbourRows band_rows(const NeighbourSource& source, double metres) {
    return rows_within(source, {Reach{}.count, to_micrometres(metres)}, Reach{}.count);
}

}  // namespace linewood
