#pragma once

#include <cstddef>
#include <filesystem>
#include <string>

#include "assess/condition/criteria.hpp"
#include "assess/wood/wood_tables.hpp"
#include "geo/io/output_dataset.hpp"
#include "geo/network/network_settings.hpp"
#include "src/job/unit_system.hpp"
#include "src/pipeline/input_layers.hpp"

namespace linewood {

/// Everything an assessment run needs to know, checked.
struct AssessJob {
    InputAddresses inputs;
    std::filesystem::path out;
    OutputFormat format = OutputFormat::geopackage;
    bool overwrite = false;
    UnitSystem units = UnitSystem::us;
    Criteria criteria;
    std::string
        criteria_json;  ///< the whole profile in canonical form; its hash goes into the output
    WoodTables tables;
    std::string tables_name = "built-in";
    NetworkSettings network;
    double plane_metres_per_unit = 1.0;  ///< for layers without a coordinate system
    std::size_t threads = 2;
};

}  // namespace linewood
