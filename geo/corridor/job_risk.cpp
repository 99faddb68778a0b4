#include "geo/corridor/job_risk.hpp"

#include <algorithm>

namespace linewood {

double job_risk(const RiskWeights& weights,
                Urgency urgency,
                std::optional<double> strength,
                double limit,
                std::optional<double> consequence) {
    const double shortfall = strength ? std::clamp((limit - *strength) / limit, 0.0, 1.0) : 1.0;
    const double weight = urgency == Urgency::now ? weights.now : weights.soon;
    const double follows = std::max(0.0, consequence.value_or(weights.if_absent));
    return weight * (weights.least + (1.0 - weights.least) * shortfall) *
           (1.0 + weights.per_unit * follows);
}

}  // namespace linewood
