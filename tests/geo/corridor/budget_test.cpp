#include "geo/corridor/budget.hpp"

#include <algorithm>
#include <numeric>
#include <random>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<KnapsackItem> items_of(const nlohmann::json& row) {
    std::vector<KnapsackItem> items;
    for (std::size_t i = 0; i < row.at("cost").size(); ++i) {
        items.push_back({row.at("cost").at(i), row.at("benefit").at(i)});
    }
    return items;
}

constexpr KnapsackEffort kTableOnly{100'000'000, 0};
constexpr KnapsackEffort kNeither{0, 0};

TEST(Knapsack, FindsTheBestOfTheVectors) {
    const nlohmann::json vectors = testing::stats_vectors("knapsack.json");
    int checked = 0;
    for (const char* set : {"known", "random"}) {
        for (const auto& row : vectors.at(set)) {
            const std::vector<KnapsackItem> items = items_of(row);
            const std::int64_t budget = row.at("budget");
            for (const KnapsackEffort effort : {KnapsackEffort{}, kTableOnly}) {
                const KnapsackChoice choice = choose_items(items, budget, effort);
                EXPECT_TRUE(choice.exact);
                EXPECT_EQ(choice.benefit, row.at("optimal").get<double>());
                EXPECT_EQ(choice.gap(), 0.0);
                EXPECT_LE(choice.cost, budget);
            }
            const KnapsackChoice rough = choose_items(items, budget, kNeither);
            EXPECT_EQ(rough.benefit, row.at("greedy_ratio").get<double>());
            EXPECT_NEAR(rough.bound, row.at("lp_bound").get<double>(), 1e-9);
            EXPECT_NEAR(dantzig_bound(items, budget), row.at("lp_bound").get<double>(), 1e-9);
            double greatest = 0.0;
            for (const KnapsackItem& item : items) {
                greatest = std::max(greatest, item.benefit);
            }
            EXPECT_GE(rough.benefit, row.at("lp_bound").get<double>() - greatest);
            ++checked;
        }
    }
    EXPECT_EQ(checked, 4);
}

double by_trying(const std::vector<KnapsackItem>& items, std::int64_t budget) {
    double best = 0.0;
    for (unsigned taken = 0; taken < (1U << items.size()); ++taken) {
        std::int64_t cost = 0;
        double benefit = 0.0;
        for (std::size_t i = 0; i < items.size(); ++i) {
            if ((taken >> i & 1U) != 0) {
                cost += items[i].cost;
                benefit += items[i].benefit;
            }
        }
        best = cost <= budget ? std::max(best, benefit) : best;
    }
    return best;
}

TEST(Knapsack, FindsTheBestOfSmallOnes) {
    std::mt19937 random{4};
    for (int round = 0; round < 1000; ++round) {
        std::vector<KnapsackItem> items(random() % 12U);
        for (KnapsackItem& item : items) {
            item.cost = static_cast<std::int64_t>(random() % 20U);
            item.benefit = static_cast<double>(random() % 15U);
        }
        const auto budget = static_cast<std::int64_t>(random() % 60U);
        const double best = by_trying(items, budget);
        for (const KnapsackEffort effort : {KnapsackEffort{}, kTableOnly, kNeither}) {
            const KnapsackChoice choice = choose_items(items, budget, effort);
            std::int64_t cost = 0;
            double benefit = 0.0;
            for (std::size_t i = 0; i < items.size(); ++i) {
                cost += choice.taken[i] ? items[i].cost : 0;
                benefit += choice.taken[i] ? items[i].benefit : 0.0;
            }
            ASSERT_EQ(cost, choice.cost);
            ASSERT_EQ(benefit, choice.benefit);
            ASSERT_LE(cost, budget);
            ASSERT_GE(choice.bound, best - 1e-9);
            if (choice.exact) {
                ASSERT_EQ(choice.benefit, best) << round;
            }
        }
        ASSERT_TRUE(choose_items(items, budget).exact);
        ASSERT_TRUE(choose_items(items, budget, kTableOnly).exact);
    }
}

TEST(Knapsack, ComesWithinAPercentOfTheBoundWhereThereAreMany) {
    std::mt19937 random{9};
    std::vector<KnapsackItem> items;
    std::int64_t all = 0;
    for (int i = 0; i < 20000; ++i) {
        const auto cost = static_cast<std::int64_t>(5'000'000 + random() % 60'000'000U);
        items.push_back({cost, static_cast<double>(cost % 9973) + 1.0 / (1.0 + i)});
        all += cost;
    }
    const KnapsackChoice choice = choose_items(items, all / 5, {0, 20000});
    EXPECT_LE(choice.cost, all / 5);
    EXPECT_LT(choice.gap(), 0.01);
    EXPECT_GE(choice.gap(), 0.0);
}

TEST(Knapsack, LooksAtThemByRatioThenCostThenPosition) {
    const std::vector<KnapsackItem> items{
        {4, 4.0}, {2, 2.0}, {2, 2.0}, {1, 9.0}, {0, 1.0}, {3, 0.0}};
    EXPECT_THAT(by_worth(items), ElementsAre(4, 3, 1, 2, 0, 5));
}

// ---- budgets ----

Purchase purchase(std::string_view id, double cost, double risk, bool now = false) {
    return {Money::units(cost), risk, now, true, id};
}

std::vector<Money> money(const std::vector<double>& units) {
    std::vector<Money> out;
    for (const double u : units) {
        out.push_back(Money::units(u));
    }
    return out;
}

TEST(Budget, TakesWhatCannotWaitFirst) {
    const std::vector<Purchase> market{
        purchase("A", 60, 100), purchase("B", 50, 1, true), purchase("C", 40, 30)};
    const BudgetPlan plan = plan_budget(market, money({100}));
    const BudgetYear& year = plan.years.front();
    EXPECT_THAT(year.now, ElementsAre(1));
    EXPECT_THAT(year.chosen, ElementsAre(2));  // A does not fit any more
    EXPECT_EQ(year.spent.units(), 90.0);
    EXPECT_EQ(year.risk, 31.0);
    EXPECT_THAT(year.now_left, IsEmpty());
    EXPECT_THAT(plan.left, ElementsAre(0));
    EXPECT_EQ(plan.risk, 31.0);
}

TEST(Budget, TellsWhatCannotWaitAndHasToAllTheSame) {
    const std::vector<Purchase> market{purchase("A", 60, 5, true),
                                       purchase("B", 50, 9, true),
                                       purchase("C", 30, 0, true),
                                       purchase("D", 10, 50)};
    const BudgetPlan plan = plan_budget(market, money({85, 85}));
    EXPECT_THAT(plan.years[0].now, ElementsAre(1, 2));
    EXPECT_THAT(plan.years[0].chosen, IsEmpty());
    EXPECT_THAT(plan.years[0].now_left, ElementsAre(0));
    EXPECT_EQ(plan.years[0].now_left_cost.units(), 60.0);
    EXPECT_THAT(plan.years[1].now, ElementsAre(0));
    EXPECT_THAT(plan.years[1].chosen, ElementsAre(3));
}

TEST(Budget, WhatCannotWaitAndHasNoPriceIsLeftInSight) {
    std::vector<Purchase> market{purchase("A", 60, 5, true),
                                 purchase("B", 50, 9, true),
                                 purchase("C", 10, 50),
                                 purchase("D", 20, 1)};
    market[1].priced = false;
    market[3].priced = false;
    const BudgetPlan plan = plan_budget(market, money({50, 100}));
    EXPECT_THAT(plan.years[0].now_left, ElementsAre(0, 1));
    EXPECT_EQ(plan.years[0].now_unpriced, 1U);
    EXPECT_EQ(plan.years[0].now_left_cost.units(), 110.0);
    EXPECT_THAT(plan.years[1].now, ElementsAre(0));
    EXPECT_THAT(plan.years[1].now_left, ElementsAre(1));
    EXPECT_EQ(plan.years[1].now_left_cost.units(), 50.0);
    EXPECT_THAT(plan.unpriced, ElementsAre(1, 3));
}

TEST(Budget, SaysWhatTenPercentMoreWouldBuy) {
    const std::vector<Purchase> market{
        purchase("A", 90, 100), purchase("B", 20, 10), purchase("C", 15, 9), purchase("D", 25, 11)};
    const BudgetPlan plan = plan_budget(market, money({100}));
    EXPECT_THAT(plan.years[0].chosen, ElementsAre(0));
    // 10 left over and 10 more.
    EXPECT_THAT(plan.years[0].next, ElementsAre(1));
    EXPECT_EQ(plan.years[0].next_cost.units(), 20.0);
    EXPECT_EQ(plan.years[0].next_risk, 10.0);
    EXPECT_THAT(plan.left, ElementsAre(2, 1, 3));
}

TEST(Budget, DoesNotPlanWhatHasNoPrice) {
    std::vector<Purchase> market{
        purchase("A", 1, 100), purchase("B", 1, 1, true), purchase("C", 1, 1)};
    market[0].priced = market[1].priced = false;
    const BudgetPlan plan = plan_budget(market, money({100}));
    EXPECT_THAT(plan.years[0].now, IsEmpty());
    EXPECT_THAT(plan.years[0].chosen, ElementsAre(2));
    EXPECT_THAT(plan.unpriced, ElementsAre(1, 0));
}

TEST(Budget, AddsUpAndDoesNotDependOnTheOrder) {
    std::mt19937 random{2};
    std::vector<std::string> ids;
    for (int i = 0; i < 60; ++i) {
        ids.push_back("P" + std::to_string(i));
    }
    std::vector<Purchase> market;
    for (const std::string& id : ids) {
        market.push_back(purchase(id,
                                  static_cast<double>(random() % 30U + 1),
                                  static_cast<double>(random() % 12U),
                                  random() % 10U == 0));
    }
    const std::vector<Money> budgets = money({120, 80, 100});
    const BudgetPlan plan = plan_budget(market, budgets);
    std::vector<std::string> bought;
    Money spent;
    double risk = 0.0;
    for (const BudgetYear& year : plan.years) {
        EXPECT_LE(year.spent, year.budget);
        EXPECT_TRUE(year.exact);
        EXPECT_LE(year.risk, year.risk_bound);
        Money sum;
        double removed = 0.0;
        for (const auto* part : {&year.now, &year.chosen}) {
            for (const std::uint32_t i : *part) {
                EXPECT_EQ(market[i].now, part == &year.now);
                bought.emplace_back(market[i].id);
                sum += market[i].cost;
                removed += market[i].risk;
            }
        }
        EXPECT_EQ(sum, year.spent);
        EXPECT_EQ(removed, year.risk);
        spent += sum;
        risk += removed;
    }
    EXPECT_EQ(spent, plan.spent);
    EXPECT_EQ(risk, plan.risk);
    EXPECT_LE(risk, plan.risk_bound);
    EXPECT_EQ(bought.size() + plan.left.size(), market.size());

    std::vector<Purchase> other = market;
    std::shuffle(other.begin(), other.end(), random);
    std::vector<std::string> bought_too;
    const BudgetPlan again = plan_budget(other, budgets);
    for (const BudgetYear& year : again.years) {
        for (const auto* part : {&year.now, &year.chosen}) {
            for (const std::uint32_t i : *part) {
                bought_too.emplace_back(other[i].id);
            }
        }
    }
    EXPECT_EQ(bought, bought_too);
}

}  // namespace
}  // namespace linewood
