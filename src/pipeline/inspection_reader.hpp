#pragma once

#include "assess/record/finding.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/pole_reader.hpp"
#include "src/pipeline/visit_store.hpp"

namespace linewood {

/// Reads the inspections layer once. Absent layer: no inspections.
InspectionStore read_inspections(const InputLayers& inputs,
                                 const PoleStore& poles,
                                 Findings& findings);

}  // namespace linewood
