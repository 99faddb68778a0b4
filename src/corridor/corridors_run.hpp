#pragma once

#include "src/corridor/corridors_job.hpp"
#include "src/corridor/projects_run.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Condition by corridor on an assessed dataset. Layers: `corridors` (lines along the spans; of a user's
/// layer its own features with the figures behind its columns), `stations` (every pole with run, station
/// and corridor), `bad_stretches` where asked for, `findings`, `run`.
/// @throws DataError, JobError, Interrupted; then nothing is left behind.
CorridorSummary run_corridors(const CorridorsJob& job, RunMonitor& monitor);

}  // namespace linewood
