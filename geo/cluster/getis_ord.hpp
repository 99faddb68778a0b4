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
    /// Of them, those whose values chance can deal otherwise: all but those of strata of one pole or of equal values.
    std::uint32_t varying = 0;
    /// Standard score: high values stand together above 0, low ones below. Absent in too small a
    /// neighbourhood, in one of all poles, and where all values are equal.
    std::optional<double> z;
    double skewness = 0.0;    ///< of z by chance; getis_ord_within() only
    std::optional<double> p;  ///< two-sided
};

/// Local Gi* or Gi (Ord & Getis 1995, Geogr. Anal. 27:286-306), of remaining strength for instance:
///     z_i = (sum_j w_ij x_j - W xbar) / (s sqrt((n sum_j w_ij^2 - W^2) / (n - 1))), W = sum_j w_ij
/// with the mean xbar and the deviation s (divisor n) of all n values; for Gi of those without x_i.
/// p is by the normal distribution. The frame is random labelling: the poles stand where they do, the
/// values fall on them by chance.
/// @param value one a pole, finite; poles without one are left out before the rows are made.
/// @param weight one a neighbour, in the order of the rows, finite; empty: 1 each. Rows multiplied
///        by a number (row standardisation) give the same z where the pole's own weight is too.
std::vector<GetisOrdScore> getis_ord(std::span<const double> value,
                                     const NeighbourRows& rows,
                                     std::span<const double> weight = {},
                                     const GetisOrdSettings& settings = {});

/// Gi* where values fall by chance within strata only (age bands, species), weights 1: with k_s poles of stratum s
/// in the neighbourhood, n_s of it in all, their mean m_s and variance v_s (divisor n_s)
///     z_i = (sum_j x_j - sum_s k_s m_s) / sqrt(sum_s v_s k_s (n_s - k_s) / (n_s - 1)),
/// the exact moments of that chance: strata of the same mean that scatter more or less are no finding.
/// Of one stratum it is that of getis_ord(). A neighbourhood with fewer varying poles than `min_poles` has no score.
///
/// p is of Pearson's type III with the exact skewness, sum_s c_s k_s (n_s - k_s) (n_s - 2 k_s) / ((n_s - 1) (n_s - 2)) over
/// the cube of the deviation (c_s: mean cube), or of the normal distribution where that is larger. Most poles are sound
/// and few are weak: by the normal distribution alone dozens of low strengths by chance would pass for a finding.
/// @param stratum one a pole; empty: one stratum.  @pre settings.star
std::vector<GetisOrdScore> getis_ord_within(std::span<const double> value,
                                            std::span<const std::uint32_t> stratum,
                                            const NeighbourRows& rows,
                                            const GetisOrdSettings& settings = {});

}  // namespace linewood
