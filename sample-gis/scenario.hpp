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

/// Makes area after area until there are `poles` poles and hands each to `writer`.
/// @param dirty put the mistakes in
/// @return the mistakes, first area first
/// @pre 30 <= poles <= kMostPoles
std::vector<Dirt> make_scenario(int poles, std::uint64_t seed, bool dirty, Writer& writer);

}  // namespace linewood::sample
