#pragma once

#include <vector>

#include "geo/io/output_dataset.hpp"
#include "src/corridor/line_model.hpp"

namespace linewood {

/// The layer `stations`, a plain table: every pole with its run and its metres from the start of it, in the
/// order of the poles layer. Null for a pole that is none of its own.
/// @param corridor_of of each pole, an id; null: there is no such column.
std::int64_t write_stations(OutputDataset& dataset,
                            const LineModel& line,
                            const std::vector<const std::string*>* corridor_of);

}  // namespace linewood
