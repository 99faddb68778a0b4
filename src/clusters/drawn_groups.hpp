#pragma once

#include <cstddef>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// Decayed poles within reach, itself among them, that make a pole one of a group: DBSCAN's usual for two
/// dimensions.
inline constexpr std::size_t kGroupPoles = 4;

/// Groups of decayed poles that stand densely, along the spans where there are some, else in a straight line:
/// for drawing and naming, and no test of anything. The reach is twice the middle span, or the middle
/// distance to the fourth nearest decayed pole.
void draw_groups(const AssessedData& data, const Population& population, ClusterResults& results);

}  // namespace linewood
