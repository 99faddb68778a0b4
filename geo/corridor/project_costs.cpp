#include "geo/corridor/project_costs.hpp"

#include <cmath>

namespace linewood {

namespace {

bool fits(std::string_view asked, std::string_view has) { return asked.empty() || asked == has; }

bool is_price(double v) { return v >= 0.0 && v <= kMaxPrice; }

std::string not_a_price(std::string_view name) {
    return std::string{name} + " must be a number from 0 to 1000000000";
}

std::string limit_fault(const ProjectLimits& limits) {
    if (limits.poles && *limits.poles < 1) {
        return "the limit of poles must be at least 1";
    }
    const auto bad = [](const std::optional<double>& limit) {
        return limit && !(*limit > 0.0 && *limit <= kMaxPrice);
    };
    if (bad(limits.crew_days)) {
        return "the limit of crew-days must be over 0 and at most 1000000000";
    }
    if (bad(limits.km)) {
        return "the limit of kilometres must be over 0 and at most 1000000000";
    }
    return {};
}

}  // namespace

const JobPrice* price_of(const ProjectCosts& costs, const JobLabels& job) {
    for (const JobPrice& price : costs.prices) {
        if (fits(price.verdict, job.verdict) && fits(price.pole_class, job.pole_class) &&
            fits(price.access, job.access)) {
            return &price;
        }
    }
    return nullptr;
}

std::string price_list_fault(const ProjectCosts& costs) {
    if (!is_price(costs.mobilisation)) {
        return not_a_price("the mobilisation");
    }
    if (!is_price(costs.per_km)) {
        return not_a_price("the cost per kilometre");
    }
    for (std::size_t i = 0; i < costs.prices.size(); ++i) {
        const std::string row = "of price " + std::to_string(i + 1);
        if (!is_price(costs.prices[i].cost)) {
            return not_a_price("the cost " + row);
        }
        if (!is_price(costs.prices[i].crew_days)) {
            return not_a_price("the crew-days " + row);
        }
    }
    return limit_fault(costs.limits);
}

}  // namespace linewood
