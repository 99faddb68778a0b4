#pragma once

#include <string>
#include <vector>

#include "geo/corridor/corridor_condition.hpp"
#include "src/corridor/corridor_set.hpp"
#include "src/corridor/line_model.hpp"
#include "src/job/worksheet_job.hpp"

namespace linewood {

/// The list of corridors by rank, to print: at most 500 of them, the table beside has all.
std::string corridor_page(const LineModel& line,
                          const CorridorSet& set,
                          const std::vector<CorridorCondition>& conditions,
                          const std::vector<std::uint32_t>& by_rank,
                          Paper paper,
                          std::string_view made_by);

}  // namespace linewood
