#pragma once

#include <cstdint>
#include <optional>
#include <span>

#include "geo/cluster/neighbour_rows.hpp"

namespace linewood {

struct JoinCount {
    double joins = 0.0;     ///< BB: pairs of decayed neighbours
    double expected = 0.0;  ///< under random labelling with as many decayed poles
    double variance = 0.0;
    std::optional<double> z;  ///< absent with fewer than four poles or without variance
    std::optional<double> p;  ///< P(as many or more), by the normal distribution
};

/// Whether decayed poles adjoin decayed poles more than chance has it: one figure for a whole network
/// (Cliff & Ord 1981, non-free sampling). With w = 1 for each neighbour in the rows:
///     BB = 1/2 sum w_ij x_i x_j,  E = 1/2 S0 C(2)/n(2),
///     Var = 1/4 [S1 C(2)/n(2) + (S2 - 2 S1) C(3)/n(3) + (S0^2 + S1 - S2) C(4)/n(4) - (2 E)^2],
/// a(k) = a (a-1) ... (a-k+1). Rows need not be symmetric (k nearest are not).
/// @param decayed one a pole, 0 or 1.
JoinCount join_count(std::span<const std::uint8_t> decayed, const NeighbourRows& rows);

}  // namespace linewood
