#pragma once

#include <functional>

#include "assess/record/finding.hpp"
#include "assess/verdict/assessment.hpp"
#include "src/job/assess_job.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// How a run reads its layers.
struct RunReading {
    /// Called now and then, so that findings can be written and emptied; may be empty.
    std::function<void()> take_findings{};
    bool keep_inspection_rows = true;  ///< for asking the pole of a row of the inspections layer
};

/// Reads the four layers of a run, each once: everything but the features themselves.
RunData read_run_data(const InputLayers& inputs,
                      const AssessJob& job,
                      const GroundFrame& frame,
                      Findings& findings,
                      const RunReading& reading,
                      RunMonitor& monitor);

/// The assessment of one pole of the run; of a second pole with an id that is taken, that it is one.
/// Doubts go to `findings`, with id and place; how it was done to `trace` (may be null).
PoleAssessment assess_pole_of(const RunData& data,
                              const AssessJob& job,
                              std::uint32_t pole,
                              const LineDirection& line,
                              Findings& findings,
                              PoleTrace* trace = nullptr);

}  // namespace linewood
