#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "src/job/worksheet_job.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a worksheet run came to.
struct WorksheetSummary {
    std::size_t worksheets = 0;
    std::size_t files = 0;
    std::size_t without_id = 0;  ///< poles that matched the filter, but have no id
    std::string text;            ///< the one worksheet of a job without `out`
    std::string criteria_note;   ///< where the dataset was assessed by other criteria
    std::vector<std::string> notes;
};

/// Reads the layers as an assessment does, assesses the poles that are wanted, and writes a worksheet of
/// each to the folder `job.out`, with an index; without `out` the only one is given as text.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
WorksheetSummary run_worksheets(const WorksheetJob& job, RunMonitor& monitor);

}  // namespace linewood
