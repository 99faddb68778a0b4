#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace linewood {

/// Something that can be bought once, whole.
struct KnapsackItem {
    std::int64_t cost = 0;  ///< in whole units, at least 0
    double benefit = 0.0;   ///< finite, at least 0
};

/// What was chosen, and how good it is.
struct KnapsackChoice {
    std::vector<bool> taken;  ///< of each item
    std::int64_t cost = 0;
    double benefit = 0.0;
    /// No choice within the budget has more benefit. The same as `benefit` where `exact`.
    double bound = 0.0;
    bool exact = false;

    /// By how much the benefit may miss the best there is, as a share of the bound.
    double gap() const { return bound > 0.0 ? 1.0 - benefit / bound : 0.0; }
};

/// How much work to spend on an exact answer. Own choices, no source.
struct KnapsackEffort {
    std::int64_t cells = 100'000'000;  ///< of the table: items times units of budget
    std::int64_t nodes = 5'000'000;    ///< of branch and bound
};

/// The order in which items are looked at: benefit for the money (more first), cost (less first),
/// position. Items without benefit come last; free ones with benefit first.
std::vector<std::uint32_t> by_worth(std::span<const KnapsackItem> items);

/// Chooses items for the most benefit within a budget (0/1 knapsack; S. Martello and P. Toth, Knapsack
/// Problems, 1990). Branch and bound with Dantzig's bound (1957) in the order of by_worth, within
/// `nodes`; where that ends early, a table over the units of budget (costs and budget divided by what
/// divides all costs), within `cells`; else the best found with the bound. That misses the best by less than the
/// benefit of the first item that did not fit. Items without benefit are not taken.
/// Deterministic: of equal choices the first in that order.
KnapsackChoice choose_items(std::span<const KnapsackItem> items,
                            std::int64_t budget,
                            const KnapsackEffort& effort = {});

/// Dantzig's bound: the benefit if items could be bought in part.
double dantzig_bound(std::span<const KnapsackItem> items, std::int64_t budget);

}  // namespace linewood
