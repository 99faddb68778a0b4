#include "geo/corridor/budget.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace linewood {

namespace {

/// One part of the market, in the order of ids.
struct Bought {
    std::vector<std::uint32_t> taken;
    std::vector<std::uint32_t> left;
    Money cost;
    double risk = 0.0;
    double bound = 0.0;
    bool exact = true;
};

class Budgeter {
public:
    Budgeter(std::span<const Purchase> purchases, const KnapsackEffort& effort)
        : purchases_{purchases}, effort_{effort} {}

    BudgetPlan plan(std::span<const Money> budgets) {
        std::vector<std::uint32_t> order(purchases_.size());
        std::iota(order.begin(), order.end(), 0U);
        std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
            return purchases_[a].id < purchases_[b].id;
        });
        std::vector<std::uint32_t> now;
        std::vector<std::uint32_t> others;
        for (const std::uint32_t i : order) {
            const Purchase& p = purchases_[i];
            (!p.priced ? plan_.unpriced : p.now ? now : others).push_back(i);
        }
        std::stable_partition(plan_.unpriced.begin(), plan_.unpriced.end(), [&](std::uint32_t i) {
            return purchases_[i].now;
        });
        bound_all(now, others, budgets);
        for (const Money budget : budgets) {
            spend(budget, now, others);
        }
        finish(now, others);
        return std::move(plan_);
    }

private:
    std::vector<KnapsackItem> items_of(std::span<const std::uint32_t> from) const {
        std::vector<KnapsackItem> items;
        items.reserve(from.size());
        for (const std::uint32_t i : from) {
            items.push_back({purchases_[i].cost.thousandths(), purchases_[i].risk});
        }
        return items;
    }

    /// The same positions in the order of by_worth.
    std::vector<std::uint32_t> worthiest(const std::vector<std::uint32_t>& from) const {
        std::vector<std::uint32_t> sorted;
        sorted.reserve(from.size());
        for (const std::uint32_t i : by_worth(items_of(from))) {
            sorted.push_back(from[i]);
        }
        return sorted;
    }

    Bought buy(const std::vector<std::uint32_t>& from, Money money) const {
        const std::vector<KnapsackItem> items = items_of(from);
        const KnapsackChoice choice = choose_items(items, money.thousandths(), effort_);
        Bought bought;
        for (std::size_t i = 0; i < from.size(); ++i) {
            (choice.taken[i] ? bought.taken : bought.left).push_back(from[i]);
        }
        bought.cost = Money::thousandths(choice.cost);
        bought.risk = choice.benefit;
        bought.bound = choice.bound;
        bought.exact = choice.exact;
        return bought;
    }

    /// Cannot wait, though no risk was put on it: the cheapest first.
    Bought with_what_else_fits(Bought bought, Money money) const {
        std::stable_sort(
            bought.left.begin(), bought.left.end(), [&](std::uint32_t a, std::uint32_t b) {
                return purchases_[a].cost < purchases_[b].cost;
            });
        std::vector<std::uint32_t> left;
        for (const std::uint32_t i : bought.left) {
            const Money cost = purchases_[i].cost;
            if (bought.cost + cost <= money) {
                bought.cost += cost;
                bought.risk += purchases_[i].risk;
                bought.taken.push_back(i);
            } else {
                left.push_back(i);
            }
        }
        bought.left = std::move(left);
        bought.bound = std::max(bought.bound, bought.risk);
        return bought;
    }

    /// All of `from` where there is money for all, else the best of it.
    Bought buy_all(const std::vector<std::uint32_t>& from, Money money) const {
        Bought all;
        for (const std::uint32_t i : from) {
            all.cost += purchases_[i].cost;
            all.risk += purchases_[i].risk;
        }
        if (all.cost > money) {
            return with_what_else_fits(buy(from, money), money);
        }
        all.taken = from;
        all.bound = all.risk;
        return all;
    }

    void spend(Money budget, std::vector<std::uint32_t>& now, std::vector<std::uint32_t>& others) {
        const Bought first = buy_all(now, budget);
        const Bought then = buy(others, budget - first.cost);
        BudgetYear year;
        year.budget = budget;
        year.now = worthiest(first.taken);
        year.chosen = worthiest(then.taken);
        year.now_left = worthiest(first.left);
        for (const std::uint32_t i : first.left) {
            year.now_left_cost += purchases_[i].cost;
        }
        now = year.now_left;
        others = then.left;
        add_unpriced(year);
        year.spent = first.cost + then.cost;
        year.risk = first.risk + then.risk;
        year.risk_bound = first.bound + then.bound;
        year.exact = first.exact && then.exact;
        plan_.spent += year.spent;
        plan_.risk += year.risk;
        plan_.years.push_back(std::move(year));
    }

    /// No money can be set aside for them, but nobody may lose sight of them.
    void add_unpriced(BudgetYear& year) const {
        for (const std::uint32_t i : plan_.unpriced) {
            if (purchases_[i].now) {
                year.now_left.push_back(i);
                year.now_left_cost += purchases_[i].cost;
                ++year.now_unpriced;
            }
        }
    }

    void bound_all(const std::vector<std::uint32_t>& now,
                   const std::vector<std::uint32_t>& others,
                   std::span<const Money> budgets) {
        std::vector<std::uint32_t> all = now;
        all.insert(all.end(), others.begin(), others.end());
        Money sum;
        for (const Money budget : budgets) {
            sum += budget;
        }
        plan_.risk_bound = dantzig_bound(items_of(all), sum.thousandths());
    }

    void finish(const std::vector<std::uint32_t>& now, const std::vector<std::uint32_t>& others) {
        std::vector<std::uint32_t> left = now;
        left.insert(left.end(), others.begin(), others.end());
        std::sort(left.begin(), left.end(), [&](std::uint32_t a, std::uint32_t b) {
            return purchases_[a].id < purchases_[b].id;
        });
        for (BudgetYear& year : plan_.years) {
            const Money more = Money::thousandths(year.budget.thousandths() / 10);
            const Bought next = buy(left, year.budget - year.spent + more);
            year.next = worthiest(next.taken);
            year.next_cost = next.cost;
            year.next_risk = next.risk;
        }
        plan_.left = worthiest(left);
    }

    std::span<const Purchase> purchases_;
    const KnapsackEffort& effort_;
    BudgetPlan plan_;
};

}  // namespace

BudgetPlan plan_budget(std::span<const Purchase> purchases,
                       std::span<const Money> budgets,
                       const KnapsackEffort& effort) {
    return Budgeter{purchases, effort}.plan(budgets);
}

}  // namespace linewood
