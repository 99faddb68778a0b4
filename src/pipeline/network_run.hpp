#pragma once

#include <map>
#include <string>

#include "geo/io/output_dataset.hpp"
#include "src/job/network_job.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/pipeline/network_figures.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a network run came to.
struct NetworkSummary {
    NetworkFigures figures;
    FindingLog::Counts findings;
    std::int64_t findings_unwritten = 0;  ///< counted there, but over the limit of the job
    OutputSummary output;
};

/// Poles and spans in, the resolved graph out.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
NetworkSummary run_network(const NetworkJob& job, RunMonitor& monitor);

}  // namespace linewood
