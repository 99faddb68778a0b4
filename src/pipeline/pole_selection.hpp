#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "assess/verdict/assessment.hpp"
#include "src/job/worksheet_job.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// The poles a job wants worksheets of.
struct PoleSelection {
    std::vector<std::uint32_t> poles;  ///< as typed, else in the order of the layer; each once
    std::size_t without_id = 0;        ///< match the filter, but have no id to be joined by
};

/// @throws DataError naming the nearest ids where one is not there; JobError where the filter cannot be
/// used. @pre the look-up of `data.poles.ids` is still there.
PoleSelection select_poles(const InputLayers& inputs,
                           const WorksheetJob& job,
                           const RunData& data,
                           RunMonitor& monitor);

/// Whether somebody has to go there: replace, stub, or treat without treatment done.
bool needs_work(const PoleAssessment& a);

}  // namespace linewood
