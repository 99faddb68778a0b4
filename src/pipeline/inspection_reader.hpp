#pragma once

#include <functional>

#include "assess/record/finding.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/pole_reader.hpp"
#include "src/pipeline/visit_store.hpp"

namespace linewood {

/// Reads the inspections layer once. Absent layer: no inspections.
/// @param today dates after it are doubted; nothing: none is.
/// @param after_batch called now and then while reading, so that `findings` can be written and emptied.
InspectionStore read_inspections(const InputLayers& inputs,
                                 const PoleStore& poles,
                                 std::optional<Date> today,
                                 Findings& findings,
                                 const std::function<void()>& after_batch = {});

}  // namespace linewood
