#include "geo/corridor/knapsack.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

namespace linewood {

namespace {

/// The items with benefit that fit at all, the worthiest first, with running sums.
struct Ordered {
    std::vector<std::uint32_t> item;
    std::vector<std::int64_t> cost;
    std::vector<double> benefit;
    std::vector<std::int64_t> cost_before{0};
    std::vector<double> benefit_before{0.0};

    Ordered(std::span<const KnapsackItem> items, std::int64_t budget) {
        for (const std::uint32_t i : by_worth(items)) {
            if (items[i].benefit > 0.0 && items[i].cost <= budget) {
                item.push_back(i);
                cost.push_back(items[i].cost);
                benefit.push_back(items[i].benefit);
                cost_before.push_back(cost_before.back() + items[i].cost);
                benefit_before.push_back(benefit_before.back() + items[i].benefit);
            }
        }
    }
    std::size_t size() const { return item.size(); }

    /// The most benefit of the items from `i` on for so much money, parts allowed.
    double bound(std::size_t i, std::int64_t money) const {
        const auto begin = cost_before.begin() + static_cast<std::ptrdiff_t>(i);
        const auto past = std::upper_bound(begin, cost_before.end(), cost_before[i] + money);
        const std::size_t whole = static_cast<std::size_t>(past - cost_before.begin()) - 1U;
        double sum = benefit_before[whole] - benefit_before[i];
        if (whole < size()) {
            const std::int64_t left = money - (cost_before[whole] - cost_before[i]);
            sum += benefit[whole] * static_cast<double>(left) / static_cast<double>(cost[whole]);
        }
        return sum;
    }
};

/// A choice among the ordered items.
struct Pick {
    std::vector<bool> taken;
    double benefit = 0.0;
};

Pick greedy(const Ordered& items, std::int64_t budget) {
    Pick pick{std::vector<bool>(items.size(), false), 0.0};
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (items.cost[i] <= budget) {
            pick.taken[i] = true;
            pick.benefit += items.benefit[i];
            budget -= items.cost[i];
        }
    }
    const auto best = std::max_element(items.benefit.begin(), items.benefit.end());
    if (best != items.benefit.end() && *best > pick.benefit) {
        pick.taken.assign(items.size(), false);
        pick.taken[static_cast<std::size_t>(best - items.benefit.begin())] = true;
        pick.benefit = *best;
    }
    return pick;
}

/// Depth first, taking before leaving. True where it came to an end.
bool branch_and_bound(const Ordered& items, std::int64_t budget, std::int64_t nodes, Pick& best) {
    // Sums differ in their last digits with the order of adding.
    const double slack = 1e-12 * items.benefit_before.back();
    struct Taken {
        std::size_t item;
        double benefit_before;  // kept, so that taking and giving back leaves no trace
    };
    std::vector<Taken> open;
    std::int64_t money = budget;
    double benefit = 0.0;
    std::size_t i = 0;
    for (;;) {
        while (i < items.size() && benefit + items.bound(i, money) > best.benefit + slack) {
            if (--nodes < 0) {
                return false;
            }
            if (items.cost[i] <= money) {
                open.push_back({i, benefit});
                money -= items.cost[i];
                benefit += items.benefit[i];
            }
            ++i;
        }
        if (benefit > best.benefit + slack) {
            best.benefit = benefit;
            best.taken.assign(items.size(), false);
            for (const Taken& taken : open) {
                best.taken[taken.item] = true;
            }
        }
        if (open.empty()) {
            return true;
        }
        i = open.back().item;
        benefit = open.back().benefit_before;
        open.pop_back();
        money += items.cost[i];
        ++i;
    }
}

/// The best for each amount of money, item by item from the last, so that the first ones are taken
/// where there is a choice.
Pick table(const Ordered& items, std::int64_t budget, std::int64_t unit) {
    const auto width = static_cast<std::size_t>(budget / unit) + 1U;
    std::vector<double> best(width, 0.0);
    std::vector<bool> takes(items.size() * width, false);
    for (std::size_t i = items.size(); i-- > 0;) {
        const auto cost = static_cast<std::size_t>(items.cost[i] / unit);
        for (std::size_t money = width; money-- > cost;) {
            const double with = best[money - cost] + items.benefit[i];
            if (with >= best[money]) {
                best[money] = with;
                takes[i * width + money] = true;
            }
        }
    }
    Pick pick{std::vector<bool>(items.size(), false), 0.0};
    std::size_t money = width - 1U;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (takes[i * width + money]) {
            pick.taken[i] = true;
            pick.benefit += items.benefit[i];
            money -= static_cast<std::size_t>(items.cost[i] / unit);
        }
    }
    return pick;
}

bool table_fits(const Ordered& items, std::int64_t budget, std::int64_t unit, std::int64_t cells) {
    const std::int64_t width = budget / unit + 1;
    return width <= cells / static_cast<std::int64_t>(items.size());
}

}  // namespace

std::vector<std::uint32_t> by_worth(std::span<const KnapsackItem> items) {
    std::vector<std::uint32_t> order(items.size());
    std::iota(order.begin(), order.end(), 0U);
    const auto worth = [&](std::uint32_t i) {
        const KnapsackItem& item = items[i];
        if (item.benefit <= 0.0) {
            return -1.0;
        }
        return item.cost > 0 ? item.benefit / static_cast<double>(item.cost)
                             : std::numeric_limits<double>::infinity();
    };
    std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        const double worth_a = worth(a);
        const double worth_b = worth(b);
        if (worth_a != worth_b) {
            return worth_a > worth_b;
        }
        return items[a].cost != items[b].cost ? items[a].cost < items[b].cost : a < b;
    });
    return order;
}

KnapsackChoice choose_items(std::span<const KnapsackItem> items,
                            std::int64_t budget,
                            const KnapsackEffort& effort) {
    KnapsackChoice choice;
    choice.taken.assign(items.size(), false);
    const Ordered ordered{items, budget};
    if (budget < 0 || ordered.size() == 0) {
        choice.exact = true;
        return choice;
    }
    std::int64_t unit = 0;
    for (const std::int64_t cost : ordered.cost) {
        unit = std::gcd(unit, cost);
    }
    unit = std::max<std::int64_t>(unit, 1);
    Pick pick = greedy(ordered, budget);
    choice.exact = branch_and_bound(ordered, budget, effort.nodes, pick);
    if (!choice.exact && table_fits(ordered, budget, unit, effort.cells)) {
        pick = table(ordered, budget, unit);
        choice.exact = true;
    }
    choice.benefit = pick.benefit;
    choice.bound = choice.exact ? pick.benefit : std::max(pick.benefit, ordered.bound(0, budget));
    for (std::size_t i = 0; i < ordered.size(); ++i) {
        if (pick.taken[i]) {
            choice.taken[ordered.item[i]] = true;
            choice.cost += ordered.cost[i];
        }
    }
    return choice;
}

double dantzig_bound(std::span<const KnapsackItem> items, std::int64_t budget) {
    const Ordered ordered{items, budget};
    return budget < 0 ? 0.0 : ordered.bound(0, budget);
}

}  // namespace linewood
