#pragma once

#include <cstdint>
#include <vector>

#include "geo/corridor/bad_stretches.hpp"
#include "geo/corridor/corridor_condition.hpp"
#include "geo/io/cell.hpp"
#include "src/corridor/corridor_set.hpp"
#include "src/corridor/line_model.hpp"

namespace linewood {

/// The figures of a corridor, the same in the layer, CSV and JSON.
std::vector<Field> corridor_fields(bool of_runs);
std::vector<Cell> corridor_cells(const LineModel& line,
                                 const CorridorSet& set,
                                 const CorridorCondition& condition,
                                 std::uint32_t corridor);
/// Bad stretches of runs.
std::vector<Field> stretch_fields();
std::vector<Cell> stretch_cells(const LineModel& line, const BadStretch& stretch);

/// What the kernels ask of each pole.
std::vector<PoleCondition> pole_conditions(const LineModel& line);

}  // namespace linewood
