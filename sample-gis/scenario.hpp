#pragma once

#include <cstdint>
#include <vector>

#include "sample-gis/dirt.hpp"
#include "sample-gis/records.hpp"
#include "sample-gis/writer.hpp"

namespace linewood::sample {

/// Where the invented network lies: UTM zone 15 north, so that grid and true north differ.
inline constexpr const char* kScenarioCrs = "EPSG:32615";
inline constexpr int kMostPoles = 10'000'000;

/// What the scenario is to be like.
struct Wishes {
    bool dirty = true;          ///< put the mistakes in
    bool single_spans = false;  ///< no routes: every line drawn span by span
    double defects = 1.0;       ///< share of the defects that are kept
};

/// Makes area after area until there are `poles` poles and hands each to `writer`.
/// @return the mistakes, first area first
/// @pre 30 <= poles <= kMostPoles
std::vector<Dirt> make_scenario(int poles,
                                std::uint64_t seed,
                                const Wishes& wishes,
                                Writer& writer);

}  // namespace linewood::sample
