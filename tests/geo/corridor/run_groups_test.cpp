#include "geo/corridor/run_groups.hpp"

#include <algorithm>
#include <numeric>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/corridor/run_id.hpp"
#include "tests/geo/corridor/line_sketch.hpp"

namespace linewood {
namespace {

using ::testing::ElementsAre;
using testing::LineSketch;
using ::testing::UnorderedElementsAre;

/// Each group as its runs, `start-end` each.
std::vector<std::string> written(const LineSketch& sketch, RunGrouping grouping) {
    const LineGraph graph = sketch.graph();
    const Runs runs{graph};
    std::vector<std::string> out;
    for (const RunGroup& group : group_runs(graph, runs, grouping)) {
        std::string text;
        for (const std::uint32_t run : group.runs) {
            const RunName name = run_name(runs, run, graph, sketch.ids(), sketch.circuits());
            text += (text.empty() ? "" : " ") + name.start + "-" + name.end;
        }
        out.push_back(text + "=" + std::to_string(std::lround(group.length_m)));
    }
    return out;
}

/// A trunk A B C D E with a short tap at B and a long one at D that reaches further than E; another
/// circuit goes on from E.
LineSketch feeder() {
    LineSketch sketch;
    const auto line = [&](const std::vector<std::string>& poles, double m, const char* circuit) {
        for (std::size_t i = 0; i + 1 < poles.size(); ++i) {
            sketch.span(poles[i], poles[i + 1], m, circuit);
        }
    };
    line({"A", "B", "C", "D", "E"}, 100.0, "one");
    line({"B", "T1"}, 40.0, "one");
    line({"D", "L1", "L2", "L3"}, 100.0, "one");
    line({"E", "X", "Y"}, 10.0, "two");
    return sketch;
}

TEST(RunGroups, ChainsFollowTheFurthestBranch) {
    EXPECT_THAT(written(feeder(), RunGrouping::chain),
                UnorderedElementsAre("A-B B-D D-L3=600", "B-T1=40", "D-E=100", "E-Y=20"));
}

TEST(RunGroups, CircuitsAreWhatHangsTogether) {
    LineSketch sketch = feeder();
    sketch.span("Q1", "Q2", 5.0, "one");  // of the same circuit, but somewhere else
    EXPECT_THAT(written(sketch, RunGrouping::circuit),
                ElementsAre("A-B B-D B-T1 D-E D-L3=740", "E-Y=20", "Q1-Q2=5"));
    EXPECT_EQ(written(sketch, RunGrouping::run).size(), 7U);
}

TEST(RunGroups, EachRunIsInOneGroupWhateverTheOrder) {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        const LineSketch sketch = testing::random_line(seed, 60, 70, seed % 4);
        for (const RunGrouping grouping :
             {RunGrouping::run, RunGrouping::chain, RunGrouping::circuit}) {
            const LineGraph graph = sketch.graph();
            const Runs runs{graph};
            std::multiset<std::uint32_t> seen;
            double metres = 0.0;
            for (const RunGroup& group : group_runs(graph, runs, grouping)) {
                seen.insert(group.runs.begin(), group.runs.end());
                metres += group.length_m;
            }
            std::vector<std::uint32_t> all(runs.runs().size());
            std::iota(all.begin(), all.end(), 0U);
            EXPECT_TRUE(std::equal(seen.begin(), seen.end(), all.begin(), all.end())) << seed;
            double steps = 0.0;
            for (const LineGraph::Step& step : graph.steps()) {
                steps += step.length_m;
            }
            EXPECT_NEAR(metres, steps, 1e-6 * steps);
            EXPECT_EQ(written(sketch, grouping), written(sketch.shuffled(seed), grouping)) << seed;
        }
    }
}

TEST(RunGroups, AChainGoesOnWhereItStopped) {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        const LineSketch sketch = testing::random_line(seed, 60, 60, seed % 3);
        const LineGraph graph = sketch.graph();
        const Runs runs{graph};
        const auto ends = [&](std::uint32_t run) {
            const auto stops = runs.stops(run);
            return std::set<std::uint32_t>{stops.front().pole, stops.back().pole};
        };
        for (const RunGroup& group : group_runs(graph, runs, RunGrouping::chain)) {
            for (std::size_t i = 1; i < group.runs.size(); ++i) {
                const auto a = ends(group.runs[i - 1]);
                const auto b = ends(group.runs[i]);
                EXPECT_TRUE(std::any_of(a.begin(), a.end(), [&](std::uint32_t end) {
                    return b.count(end) > 0;
                })) << seed;
            }
        }
    }
}

}  // namespace
}  // namespace linewood
