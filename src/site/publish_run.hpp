#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "src/report/run_monitor.hpp"
#include "src/site/site_job.hpp"

namespace linewood {

/// What a run came to.
struct PublishSummary {
    std::size_t poles = 0;
    std::size_t placed = 0;
    std::size_t worksheets = 0;
    std::size_t files = 0;
    bool tiled = false;
    std::vector<std::string> warnings;  ///< said on the site too
    std::vector<std::string> notes;
};

/// Writes an assessed dataset as a folder that any web server, or a double click, opens: see the README. The same
/// input gives the same bytes.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
PublishSummary run_publish(const SiteJob& job, RunMonitor& monitor);

}  // namespace linewood
