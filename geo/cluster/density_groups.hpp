#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_rows.hpp"

namespace linewood {

/// Groups of decayed poles that stand densely, for drawing and naming. Not a test: where poles stand
/// densely, so do the decayed ones; whether there are more than chance puts there is for the scan.
struct DensityGroups {
    std::vector<std::uint32_t> group;       ///< of each pole, from 1; 0 = in none
    std::vector<bool> core;                 ///< of each pole
    std::vector<std::uint32_t> neighbours;  ///< grouped poles within reach, itself included; else 0
    std::uint32_t count = 0;
};

/// DBSCAN (Ester, Kriegel, Sander & Xu 1996). A pole with at least `min_poles` grouped poles within
/// reach, itself among them, is a core pole; core poles within reach of one another are one group; a
/// pole within reach of a core pole belongs to the group of the nearest one (at the same distance
/// the group of lower number). Groups are numbered by their core pole of lowest index.
/// @param grouped one a pole, 0 or 1: the decayed ones.
/// @param within all poles within reach of each other (`band_rows`): in a straight line or along the
///        spans. Rows of all poles serve for any labels.
DensityGroups density_groups(std::span<const std::uint8_t> grouped,
                             const NeighbourRows& within,
                             std::size_t min_poles = 4);

}  // namespace linewood
