#pragma once

#include <cstdint>

#include "assess/record/finding.hpp"
#include "assess/wood/wood_tables.hpp"
#include "geo/network/network.hpp"
#include "src/job/network_job.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/pole_reader.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// The poles of a run and the spans that join them.
struct LineNetwork {
    PoleStore poles;
    Network network;
    std::int64_t greatest_span_fid = -1;
};

/// The coordinate systems of a run's poles and spans; poles made from spans are in that of the spans.
GroundFrame open_frame(const InputLayers& inputs, const NetworkJob& job, Findings& findings);

/// Reads the poles, or makes them where the job says so, and joins the spans to them.
/// @param tables null: only what the line needs is read of the poles.
LineNetwork read_line_network(const InputLayers& inputs,
                              const NetworkJob& job,
                              const WoodTables* tables,
                              const GroundFrame& frame,
                              Findings& findings,
                              RunMonitor& monitor);

}  // namespace linewood
