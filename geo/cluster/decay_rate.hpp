#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_rows.hpp"

namespace linewood {

struct AreaCount {
    std::uint32_t poles = 0;
    std::uint32_t decayed = 0;
};

enum class RateModel {
    binomial,  ///< shares: Martuzzi & Elliott 1996 (Stat. Med. 15:1867-1873), weights within [0, 1]
    poisson,   ///< rare events: Marshall 1991 (J. R. Stat. Soc. C 40:283-294)
};

struct SmoothedRates {
    double mean = 0.0;                        ///< m = sum y / sum n
    double between = 0.0;                     ///< variance between areas beyond chance, at least 0
    std::vector<std::optional<double>> rate;  ///< of each area; absent where it has no poles
};

/// Empirical Bayes rates: each area's rate y/n drawn towards the mean of all, the more the fewer
/// poles it has. With s^2 = sum n_i (r_i - m)^2 / sum n and nbar the mean of n:
///     Poisson:  A = max(0, s^2 - m/nbar), rate_i = m + (r_i - m) A / (A + m/n_i)
///     binomial: rho_i = n_i (s^2 - v/nbar) / ((n_i - 1) s^2 + (nbar - n_i)/nbar v), v = m (1 - m),
///               rate_i = rho_i r_i + (1 - rho_i) m
/// Areas without poles count for nothing, nbar included.
SmoothedRates smoothed_rates(std::span<const AreaCount> areas, RateModel model);

/// The same by the Poisson form, towards the mean of each area's own neighbourhood: itself and its
/// neighbours, with their m, s^2 and nbar.
std::vector<std::optional<double>> locally_smoothed_rates(std::span<const AreaCount> areas,
                                                          const NeighbourRows& neighbours);

}  // namespace linewood
