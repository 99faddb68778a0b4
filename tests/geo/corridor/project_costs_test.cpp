#include "geo/corridor/project_costs.hpp"

#include <limits>

#include <gtest/gtest.h>

namespace linewood {
namespace {

ProjectCosts price_list() {
    ProjectCosts costs;
    costs.mobilisation = 2500.0;
    costs.per_km = 400.0;
    costs.prices = {{"replace", "", "boat", 9000.0, 2.0},
                    {"replace", "H1", "", 7000.0, 1.5},
                    {"replace", "", "", 5000.0, 1.0},
                    {"stub", "", "", 1500.0, 0.25}};
    return costs;
}

TEST(ProjectCosts, TakeTheFirstRowThatFits) {
    const ProjectCosts costs = price_list();
    EXPECT_EQ(price_of(costs, {"replace", "H1", "boat"}), &costs.prices[0]);
    EXPECT_EQ(price_of(costs, {"replace", "H1", "road"}), &costs.prices[1]);
    EXPECT_EQ(price_of(costs, {"replace", "4", ""}), &costs.prices[2]);
    EXPECT_EQ(price_of(costs, {"stub", "H1", "boat"}), &costs.prices[3]);
}

TEST(ProjectCosts, HaveNoPriceForWhatNoRowFits) {
    EXPECT_EQ(price_of(price_list(), {"treat", "", ""}), nullptr);
    EXPECT_EQ(price_of({}, {"replace", "", ""}), nullptr);
}

TEST(ProjectCosts, SayWhatIsWrong) {
    EXPECT_EQ(price_list_fault(price_list()), "");
    const auto fault = [](auto change) {
        ProjectCosts costs = price_list();
        change(costs);
        return price_list_fault(costs);
    };
    EXPECT_EQ(fault([](ProjectCosts& c) { c.mobilisation = -1.0; }),
              "the mobilisation must be a number from 0 to 1000000000");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.per_km = std::numeric_limits<double>::quiet_NaN(); }),
              "the cost per kilometre must be a number from 0 to 1000000000");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.prices[1].cost = 2e9; }),
              "the cost of price 2 must be a number from 0 to 1000000000");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.prices[3].crew_days = -0.5; }),
              "the crew-days of price 4 must be a number from 0 to 1000000000");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.limits.poles = 0; }),
              "the limit of poles must be at least 1");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.limits.km = 0.0; }),
              "the limit of kilometres must be over 0 and at most 1000000000");
    EXPECT_EQ(fault([](ProjectCosts& c) { c.limits.crew_days = -2.0; }),
              "the limit of crew-days must be over 0 and at most 1000000000");
}

}  // namespace
}  // namespace linewood
