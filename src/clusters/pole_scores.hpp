#pragma once

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// Around which poles more are decayed than chance puts there (exact), and where low and high strengths
/// stand together (Gi*), both corrected for the number of tests and, with strata, against chance within them.
void score_poles(const AssessedData& data,
                 const Population& population,
                 const ClusterJob& job,
                 ClusterResults& results);

/// Whether decayed poles adjoin decayed poles more than chance has it, over the spans between counted poles.
/// Nothing without spans.
std::optional<JoinCount> count_joins(const Population& population);

}  // namespace linewood
