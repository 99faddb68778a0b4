#pragma once

#include <string>
#include <string_view>

#include "geo/corridor/job_risk.hpp"
#include "geo/corridor/project_costs.hpp"

namespace linewood {

/// What replacement projects cost and what they are weighed by: all of it the user's, there are no
/// default prices. `src/job/schema/costs.schema.json` is its published form.
struct CostsFile {
    ProjectCosts costs;
    std::string access_field;       ///< of the poles layer, for `access`; empty = not asked
    std::string consequence_field;  ///< of the poles layer, a number or yes/no; empty = not asked
    RiskWeights risk;
};

/// Reads a costs file. @throws JobError naming the JSON path of what is wrong: a key that is not known or
/// given twice, a number that is missing, negative or out of range.
CostsFile read_costs_file(std::string_view text);

/// All of it as JSON on one line, defaults filled in: for the run layer and the plan.
std::string costs_file_json(const CostsFile& file);

}  // namespace linewood
