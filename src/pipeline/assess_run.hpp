#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/io/output_dataset.hpp"
#include "src/job/assess_job.hpp"
#include "src/pipeline/finding_log.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a run came to.
struct AssessSummary {
    std::array<std::int64_t, kVerdictCount> by_verdict{};  ///< by Verdict
    FindingLog::Counts findings;
    std::int64_t findings_unwritten = 0;  ///< counted there, but over the limit of the job
    OutputSummary output;
};

/// The main job: layers in, condition layers out.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
AssessSummary run_assessment(const AssessJob& job, RunMonitor& monitor);

}  // namespace linewood
