#pragma once

#include <optional>

#include "assess/verdict/verdict.hpp"

namespace linewood {

/// How the risk that a job removes is counted. Own choices, no source.
struct RiskWeights {
    double now = 3.0;        ///< of urgency `now`, at least 0
    double soon = 1.0;       ///< of any other job, at least 0
    double least = 0.1;      ///< what counts of a pole that stands at its limit, in [0, 1]
    double per_unit = 0.0;   ///< what each unit of the consequence adds, at least 0
    double if_absent = 0.0;  ///< the consequence of a pole for which none is recorded, at least 0
};

/// Risk points: urgency * (least + (1 - least) * shortfall) * (1 + per_unit * consequence).
/// The shortfall is by how much the governing strength is under its limit, as a share of the limit, in
/// [0, 1]; where there is no strength it is 1: nobody has shown that there is any.
/// The strength and its limit are in the same unit. @pre limit > 0.
double job_risk(const RiskWeights& weights,
                Urgency urgency,
                std::optional<double> strength,
                double limit,
                std::optional<double> consequence);

}  // namespace linewood
