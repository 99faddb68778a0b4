#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "geo/corridor/money.hpp"
#include "geo/io/output_dataset.hpp"
#include "src/job/costs_file.hpp"
#include "src/job/worksheet_job.hpp"

namespace linewood {

/// What every run needs to know that works on an assessed dataset in corridors, checked.
struct CorridorJob {
    std::string input;
    std::filesystem::path out;
    OutputFormat format = OutputFormat::geopackage;
    std::filesystem::path sheets;  ///< folder for pages and tables; empty = none
    bool overwrite = false;
    Paper paper = Paper::any;
    std::optional<double> plane_metres_per_unit;  ///< of layers without a coordinate system
};

/// What is asked of `linewood projects`.
struct ProjectsJob : CorridorJob {
    CostsFile costs;
    std::string costs_name;      ///< of the file, without its folder
    std::vector<Money> budgets;  ///< year by year; empty = no choice is made
    std::string mark_field;      ///< of the poles layer, shown on the sheets; empty = none
};

}  // namespace linewood
