#pragma once

#include <functional>

#include "assess/record/finding.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/pole_reader.hpp"
#include "src/pipeline/true_azimuth.hpp"
#include "src/pipeline/visit_store.hpp"

namespace linewood {

struct ReadDefects {
    DefectStore store;
    std::int64_t grid_azimuths = 0;  ///< those counted from grid north
};

/// Reads the defects layer once, azimuths turned to true north. Absent layer: no defects.
/// A defect of no known kind is kept as a pocket whose size is not known, so that its pole cannot
/// pass while nobody knows what was found.
/// @param today dates after it are doubted; nothing: none is.
/// @param after_batch called now and then while reading, so that `findings` can be written and emptied.
ReadDefects read_defects(const InputLayers& inputs,
                         const PoleStore& poles,
                         const InspectionStore& inspections,
                         const AzimuthResolver& resolver,
                         std::optional<Date> today,
                         Findings& findings,
                         const std::function<void()>& after_batch = {});

}  // namespace linewood
