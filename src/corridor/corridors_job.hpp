#pragma once

#include <string>

#include "geo/corridor/run_groups.hpp"
#include "src/corridor/projects_job.hpp"

namespace linewood {

/// What is asked of `linewood corridors`: condition by runs of the line, or by a user's layer.
struct CorridorsJob : CorridorJob {
    RunGrouping by = RunGrouping::run;
    std::string lines;       ///< DATASET[:LAYER] of lines, each a strip; empty = not asked
    double width_m = 0.0;    ///< of such a strip
    std::string polygons;    ///< DATASET[:LAYER] of areas; empty = not asked
    std::string id_field;    ///< of that layer; empty = its FID
    bool stretches = false;  ///< bad stretches of runs as well

    bool drawn() const { return !lines.empty() || !polygons.empty(); }
};

}  // namespace linewood
