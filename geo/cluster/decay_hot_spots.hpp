#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_rows.hpp"

namespace linewood {

struct HotSpotSettings {
    std::uint32_t min_poles_z = 8;  ///< smaller neighbourhoods have no z (Getis & Ord's caution)
    std::uint32_t min_poles_p = 5;  ///< nor p; own choice, for readability: p itself is exact
};

struct HotSpotScore {
    std::uint32_t poles = 0;    ///< in the neighbourhood, the pole itself among them
    std::uint32_t decayed = 0;  ///< of those
    double expected = 0.0;      ///< of those, by the share of decayed poles in each stratum
    std::optional<double> z;    ///< standard score; with one stratum the Gi* of the 0/1 label
    std::optional<double> p;    ///< P(as many or more decayed), exact, one-sided
};

/// Around which poles more poles are decayed than chance puts there. The frame is random labelling:
/// poles stand where they do, labels are permuted over all, or within strata where given, so that
/// "old poles stand together" is not taken for "decay clusters here".
/// @param decayed one a pole, 0 or 1.  @param stratum one a pole; empty: one stratum.
std::vector<HotSpotScore> decay_hot_spots(std::span<const std::uint8_t> decayed,
                                          std::span<const std::uint32_t> stratum,
                                          const NeighbourRows& rows,
                                          const HotSpotSettings& settings = {});

}  // namespace linewood
