#include "geo/corridor/ascent_bound.hpp"

#include <cmath>
#include <random>

#include <gtest/gtest.h>

#include "geo/corridor/projects.hpp"
#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

/// A town of streets that meet at right angles, with a job at every fifth pole or so: the bound comes
/// near what the plan costs, which the least cost lies between.
TEST(AscentBound, ComesNearThePlanWhereRingsAreMany) {
    testing::LineSketch town;
    const auto name = [](int x, int y) {
        return "P" + std::to_string(1000 + x) + "-" + std::to_string(1000 + y);
    };
    std::mt19937 random{21};
    for (int x = 0; x < 20; ++x) {
        for (int y = 0; y < 20; ++y) {
            const auto length = [&] { return 30.0 + static_cast<double>(random() % 30U); };
            if (x > 0) {
                town.span(name(x - 1, y), name(x, y), length());
            }
            if (y > 0) {
                town.span(name(x, y - 1), name(x, y), length());
            }
        }
    }
    std::vector<Job> jobs;
    for (std::uint32_t pole = 0; pole < 400; ++pole) {
        if (random() % 5U == 0) {
            jobs.push_back({pole, Money::units(1.0), 1.0, 1.0, Verdict::replace, false});
        }
    }
    const LineGraph graph = town.graph();
    const Runs runs{graph};
    ProjectCosts costs;
    costs.mobilisation = 90.0;
    costs.per_km = 1000.0;
    const ProjectPlan plan = plan_projects(graph, runs, jobs, {}, costs);
    EXPECT_LE(plan.grouping_bound, plan.grouping_cost);
    EXPECT_GT(plan.grouping_bound.units(), 0.9 * plan.grouping_cost.units());
}

/// Asked again, it says the same: nothing of the first answer is left over.
TEST(AscentBound, StartsAnewEachTime) {
    const testing::LineSketch sketch = testing::random_line(3, 60, 70, 20);
    const LineGraph graph = sketch.graph();
    StepCosts costs;
    costs.most = 200'000;
    for (const LineGraph::Step& step : graph.steps()) {
        costs.way.push_back(std::llround(step.length_m * 1000.0));
        costs.millimetres.push_back(costs.way.back());
    }
    const std::vector<std::uint32_t> jobs{1, 5, 9, 22, 40, 41, 59};
    AscentBound bound{graph, costs};
    const std::int64_t first = bound.of(jobs, 200'000);
    EXPECT_EQ(bound.of(std::vector<std::uint32_t>{7}, 200'000), 200'000);
    EXPECT_LT(bound.of(jobs, 50'000), first);
    EXPECT_EQ(bound.of(jobs, 200'000), first);
}

}  // namespace
}  // namespace linewood
