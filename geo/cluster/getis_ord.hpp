#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_rows.hpp"

namespace linewood {

struct GetisOrdSettings {
    /// Gi*: the pole itself belongs to its neighbourhood, with weight 1; else Gi, without it.
    bool star = true;
    /// Smaller neighbourhoods give no score: there the normal distribution does not hold (Getis &
    /// Ord's caution).
    std::uint32_t min_poles = 8;
};

struct GetisOrdScore {
    std::uint32_t poles = 0;  ///< in the neighbourhood; with the pole itself for Gi*
    /// Standard score: high values stand together above 0, low ones below. Absent in too small a
    /// neighbourhood, in one of all poles, and where all values are equal.
    std::optional<double> z;
    std::optional<double> p;  ///< two-sided, by the normal distribution
};

/// Local Gi* or Gi (Ord & Getis 1995, Geogr. Anal. 27:286-306), of remaining strength for instance:
///     z_i = (sum_j w_ij x_j - W xbar) / (s sqrt((n sum_j w_ij^2 - W^2) / (n - 1))), W = sum_j w_ij
/// with the mean xbar and the deviation s (divisor n) of all n values; for Gi of those without x_i.
/// The frame is random labelling: the poles stand where they do, the values fall on them by chance.
/// @param value one a pole, finite; poles without one are left out before the rows are made.
/// @param weight one a neighbour, in the order of the rows, finite; empty: 1 each. Rows multiplied
///        by a number (row standardisation) give the same z where the pole's own weight is too.
std::vector<GetisOrdScore> getis_ord(std::span<const double> value,
                                     const NeighbourRows& rows,
                                     std::span<const double> weight = {},
                                     const GetisOrdSettings& settings = {});

}  // namespace linewood
