#pragma once

#include <map>
#include <string>
#include <vector>

#include "geo/io/output_dataset.hpp"
#include "src/job/cluster_job.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a search for clusters came to.
struct ClusterSummary {
    std::vector<std::string> lines;  ///< in plain words: what was counted, tested, found
    std::map<std::string, FindingLog::Count, std::less<>> findings;
    OutputSummary output;
};

/// An assessed dataset in, clusters, hot spots, rates and groups out, and a page where one is asked for: all
/// there complete, or nothing.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
ClusterSummary run_clusters(const ClusterJob& job, RunMonitor& monitor);

}  // namespace linewood
