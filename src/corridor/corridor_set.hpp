#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "geo/corridor/run_groups.hpp"
#include "src/corridor/corridors_job.hpp"
#include "src/corridor/line_model.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/layer_doubt.hpp"

namespace linewood {

/// Corridors with their poles and kilometres, whatever they were made from. Each pole is in one at most.
struct CorridorSet {
    std::vector<std::string> ids;
    std::vector<double> km;
    std::vector<std::uint32_t> of_pole;  ///< kNone = in none
    std::vector<RunGroup> groups;        ///< of each, where they are runs
    /// Of a user's layer: the corridor of each of its rows, kNone where a row has no shape.
    std::vector<std::uint32_t> of_row;
    std::optional<InputLayerRef> layer;
    double km_outside = 0.0;         ///< of the line, in no corridor
    std::int64_t in_several = 0;     ///< poles that lie in more than one; each counts in one
    std::int64_t without_shape = 0;  ///< rows of the user's layer
    std::int64_t repeated_ids = 0;   ///< rows whose id an earlier one has
    std::vector<LayerDoubt> doubts;  ///< of the user's layer
};

/// Runs, chains or circuits. A pole between runs is in the corridor of the run it is given.
/// Ids: of one run its run_id; of a chain the same of the whole chain; of a circuit its least pole and its
/// circuits.
CorridorSet corridors_of_runs(const LineModel& line, RunGrouping by);

/// The user's lines or polygons, in the order of their ids. A span counts half to the corridor of each of
/// its poles. @throws DataError, JobError where the layer has not the shapes or the field asked for.
CorridorSet corridors_of_layer(const LineModel& line, const CorridorsJob& job);

}  // namespace linewood
