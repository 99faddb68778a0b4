#pragma once

#include "src/corridor/corridor_output.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Plans projects on an assessed dataset. Layers: `projects` (the way from job to job), `project_poles`
/// (every work pole once), `stations` (every pole with run and station), `budget` where there is one,
/// `findings`, `run`.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
CorridorSummary run_projects(const ProjectsJob& job, RunMonitor& monitor);

}  // namespace linewood
