#pragma once

#include <string>
#include <vector>

#include "src/corridor/projects_job.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What a run came to, in words and as the inside of a JSON object.
struct CorridorSummary {
    std::string text;
    std::string json;
    std::vector<std::string> warnings;
};

/// Plans projects on an assessed dataset. Layers: `projects` (the way from job to job), `project_poles`
/// (every work pole once), `stations` (every pole with run and station), `budget` where there is one,
/// `findings`, `run`.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
CorridorSummary run_projects(const ProjectsJob& job, RunMonitor& monitor);

}  // namespace linewood
