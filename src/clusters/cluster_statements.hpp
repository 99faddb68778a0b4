#pragma once

#include <vector>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"
#include "src/pipeline/run_record.hpp"

namespace linewood {

/// Tool, input with checksums, every setting with the seed, counts, and what came of it in words. No clock
/// and no path: the same input gives the same bytes.
std::vector<RunStatement> cluster_statements(const AssessedData& data,
                                             const Population& population,
                                             const ClusterJob& job,
                                             const ClusterResults& results);

}  // namespace linewood
