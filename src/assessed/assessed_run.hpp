#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "geo/io/source.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// What a dataset was assessed with, as its `run` layer says.
struct AssessedRun {
    UnitSystem units = UnitSystem::us;  ///< of the tool's own columns
    std::string tool;
    std::string criteria_name;
    std::string criteria_sha256;
    /// The least remaining strength that passes, percent, by those criteria.
    std::optional<double> strength_limit_pct;
    /// By InputLayer: how a job file had each of its sources read, see stated_mapping().
    std::array<std::vector<std::string>, 4> mappings;
    std::array<bool, 4> mapped{};     ///< a job file mapped it
    std::array<bool, 4> fids_kept{};  ///< of the input, where the format keeps them
};

/// @throws DataError where the dataset has no `run` layer, or was not assessed: it names the command that
/// makes one.
AssessedRun read_assessed_run(const Source& source);

}  // namespace linewood
