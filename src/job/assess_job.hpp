#pragma once

#include <optional>
#include <string>

#include "assess/condition/criteria.hpp"
#include "assess/units/angle.hpp"
#include "assess/units/date.hpp"
#include "assess/units/maybe.hpp"
#include "assess/wood/wood_tables.hpp"
#include "src/job/network_job.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// Everything an assessment run needs to know, checked.
struct AssessJob : NetworkJob {
    UnitSystem units = UnitSystem::us;
    Criteria criteria;
    std::string
        criteria_json;  ///< the whole profile in canonical form; its hash goes into the output
    WoodTables tables;
    std::string tables_name = "built-in";
    /// The day of the run: later dates are doubted. Nothing: none is.
    std::optional<Date> today;
    /// Of the compass bearings, east positive; wins over the magnetic model.
    Maybe<Angle> declination;
};

}  // namespace linewood
