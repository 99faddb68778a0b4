#pragma once

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Rates by cells of a grid, by circuits and by the user's polygons: inspected, decayed, raw rate with Wilson's
/// interval, and the empirical Bayes rate among the areas of a kind. In the order: cells by row and column,
/// circuits by name, polygons as their layer has them.
/// @throws DataError, JobError where the user's polygons cannot be read
void rate_areas(const AssessedData& data,
                const Population& population,
                const ClusterJob& job,
                RunMonitor& monitor,
                ClusterResults& results);

}  // namespace linewood
