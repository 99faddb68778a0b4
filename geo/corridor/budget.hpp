#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "geo/corridor/knapsack.hpp"
#include "geo/corridor/money.hpp"

namespace linewood {

/// A project as the budget sees it.
struct Purchase {
    Money cost;
    double risk = 0.0;    ///< removed; finite, at least 0
    bool now = false;     ///< it has a job that cannot wait
    bool priced = true;   ///< false: the cost is not known to the end, so it cannot be planned
    std::string_view id;  ///< unique; decides where all else is equal
};

/// What one year's money buys. Positions in the purchases given, in the order of by_worth.
struct BudgetYear {
    Money budget;
    std::vector<std::uint32_t> now;     ///< taken first because they cannot wait
    std::vector<std::uint32_t> chosen;  ///< of the others
    Money spent;
    double risk = 0.0;  ///< removed by both
    /// Nobody could remove more in this year with what the years before left to do.
    double risk_bound = 0.0;
    bool exact = true;
    /// Projects that cannot wait and that this year does not pay: those for which its money was not enough,
    /// which are taken first in the next, then those whose cost is not known, by id.
    std::vector<std::uint32_t> now_left;
    std::size_t now_unpriced = 0;  ///< of these, those whose cost is not known
    Money now_left_cost;           ///< as far as it is known

    /// What another 10 % of this year's budget, with what it left over, would buy of the projects that
    /// no year takes.
    std::vector<std::uint32_t> next;
    Money next_cost;
    double next_risk = 0.0;

    double gap() const { return risk_bound > 0.0 ? 1.0 - risk / risk_bound : 0.0; }
};

struct BudgetPlan {
    std::vector<BudgetYear> years;
    std::vector<std::uint32_t> left;      ///< priced, in no year, in the order of by_worth
    std::vector<std::uint32_t> unpriced;  ///< by id; those that cannot wait first
    Money spent;
    double risk = 0.0;
    /// No choice for all years together could remove more: Dantzig's bound for the sum of the budgets.
    double risk_bound = 0.0;
};

/// Chooses projects year by year: in each, first those that cannot wait (`now`), then of the rest what
/// removes most risk for the money (knapsack.hpp), because what is removed early is removed for
/// longest. Where the money is not enough for all that cannot wait, those of them that remove most
/// risk, then the cheapest. Money left over is not carried to the next year.
/// The result does not depend on the order of the purchases.
/// @param budgets at least 0 each.
BudgetPlan plan_budget(std::span<const Purchase> purchases,
                       std::span<const Money> budgets,
                       const KnapsackEffort& effort = {});

}  // namespace linewood
