#pragma once

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Kulldorff's scan over the counted poles: in circles, or along the spans. Nothing where none or all are
/// decayed. @throws Interrupted
ScanOutcome scan_population(const AssessedData& data,
                            const Population& population,
                            const ClusterJob& job,
                            WindowKind kind,
                            RunMonitor& monitor);

/// The limit that remaining strength is held against here: the one asked for, else that of the criteria.
std::optional<double> strength_limit(const AssessedData& data, const ClusterJob& job);

/// How near to the limit a strength counts as near, in points.
inline constexpr double kNearLimitPoints = 5.0;

}  // namespace linewood
