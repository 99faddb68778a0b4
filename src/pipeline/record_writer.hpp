#pragma once

#include <optional>

#include "geo/io/layer_writer.hpp"
#include "src/job/unit_system.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/run_data.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Writes the inspections as read.
void write_inspections(const std::optional<InputLayerRef>& layer,
                       std::size_t threads,
                       LayerWriter& out,
                       RunMonitor& monitor);

/// How the defects layer is written.
struct DefectWriting {
    const RunData& data;
    const Criteria& criteria;
    UnitSystem units;
    /// A defect without a geometry of its own is put at its pole.
    bool place_at_pole;
};

/// Writes the defects with azimuth, position and shell. @pre the poles are assessed.
void write_defects(const std::optional<InputLayerRef>& layer,
                   const DefectWriting& how,
                   std::size_t threads,
                   LayerWriter& out,
                   RunMonitor& monitor);

}  // namespace linewood
