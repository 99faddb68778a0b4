#include "geo/corridor/spanning_forest.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <numeric>
#include <queue>
#include <tuple>
#include <utility>

#include "geo/corridor/joined_sets.hpp"

namespace linewood {

namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max();

class ForestMaker {
public:
    ForestMaker(const LineGraph& graph, const std::vector<bool>& job, const StepCosts& costs)
        : graph_{graph},
          job_{job},
          costs_{costs},
          free_{std::none_of(costs.way.begin(), costs.way.end(), [](auto w) { return w > 0; })},
          measure_{free_ ? costs.millimetres : costs.way},
          ringed_(graph.node_count(), false) {}

    SpanningForest make() {
        forest_.in_tree.assign(graph_.steps().size(), false);
        if (find_rings()) {
            grow_catchments();
            bridge();
            weigh_breaks();
        }
        return std::move(forest_);
    }

private:
    bool usable(std::uint32_t step) const { return costs_.way[step] <= costs_.most; }

    /// Takes every step of the parts without rings; true where a part with jobs has some.
    bool find_rings() {
        JoinedSets parts{graph_.node_count()};
        for (std::uint32_t i = 0; i < graph_.steps().size(); ++i) {
            if (usable(i)) {
                parts.join(graph_.step(i).low, graph_.step(i).high);
            }
        }
        std::vector<std::int64_t> steps_less_nodes(graph_.node_count(), 0);
        std::vector<bool> has_job(graph_.node_count(), false);
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            const std::uint32_t part = parts.find(node);
            --steps_less_nodes[part];
            has_job[part] = has_job[part] || job_[node];
        }
        for (std::uint32_t i = 0; i < graph_.steps().size(); ++i) {
            steps_less_nodes[parts.find(graph_.step(i).low)] += usable(i) ? 1 : 0;
        }
        bool any = false;
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            const std::uint32_t part = parts.find(node);
            ringed_[node] = steps_less_nodes[part] >= 0 && has_job[part];
            any = any || ringed_[node];
        }
        for (std::uint32_t i = 0; i < graph_.steps().size(); ++i) {
            const std::uint32_t part = parts.find(graph_.step(i).low);
            forest_.in_tree[i] = usable(i) && steps_less_nodes[part] < 0;
        }
        return any;
    }

    /// The shortest way of every node to a job.
    void grow_catchments() {
        using Entry =
            std::tuple<std::int64_t, std::uint32_t, std::uint32_t>;  // distance, step, node
        std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
        distance_.assign(graph_.node_count(), kFar);
        std::vector<bool> settled(graph_.node_count(), false);
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            if (ringed_[node] && job_[node]) {
                distance_[node] = 0;
                queue.emplace(0, kNone, node);
            }
        }
        while (!queue.empty()) {
            const auto [distance, by, node] = queue.top();
            queue.pop();
            if (settled[node]) {
                continue;
            }
            settled[node] = true;
            if (by != kNone) {
                forest_.in_tree[by] = true;
            }
            for (const LineGraph::Arc arc : graph_.arcs(node)) {
                const std::int64_t there = distance + measure_[arc.step];
                if (usable(arc.step) && !settled[arc.node] && there <= distance_[arc.node]) {
                    distance_[arc.node] = there;
                    queue.emplace(there, arc.step, arc.node);
                }
            }
        }
    }

    /// From job to job over a step.
    std::int64_t over(std::uint32_t step) const {
        return distance_[graph_.step(step).low] + measure_[step] +
               distance_[graph_.step(step).high];
    }

    /// Kruskal over the steps between catchments.
    void bridge() {
        struct Candidate {
            std::int64_t length = 0;
            std::uint32_t step = 0;
        };
        JoinedSets joined{graph_.node_count()};
        std::vector<Candidate> candidates;
        for (std::uint32_t i = 0; i < graph_.steps().size(); ++i) {
            const LineGraph::Step& step = graph_.step(i);
            if (forest_.in_tree[i]) {
                joined.join(step.low, step.high);
            } else if (usable(i) && ringed_[step.low]) {
                candidates.push_back({over(i), i});
            }
        }
        std::sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
            return std::pair{a.length, a.step} < std::pair{b.length, b.step};
        });
        for (const Candidate& candidate : candidates) {
            const LineGraph::Step& step = graph_.step(candidate.step);
            if (joined.join(step.low, step.high)) {
                forest_.in_tree[candidate.step] = true;
                forest_.bridges.push_back({step.low, free_ ? 0 : candidate.length});
            }
        }
    }

    /// How many steps lead on from each node, when dead ends without jobs are taken away.
    std::vector<std::uint32_t> live_degrees() const {
        std::vector<std::uint32_t> degree(graph_.node_count(), 0);
        std::vector<std::uint32_t> ends;
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            for (const LineGraph::Arc arc : graph_.arcs(node)) {
                degree[node] += usable(arc.step) ? 1U : 0U;
            }
            if (degree[node] == 1 && !job_[node]) {
                ends.push_back(node);
            }
        }
        while (!ends.empty()) {
            const std::uint32_t end = ends.back();
            ends.pop_back();
            degree[end] = 0;
            for (const LineGraph::Arc arc : graph_.arcs(end)) {
                if (usable(arc.step) && degree[arc.node] > 0 && --degree[arc.node] == 1 &&
                    !job_[arc.node]) {
                    ends.push_back(arc.node);
                }
            }
        }
        return degree;
    }

    /// Adds the way from `node` on, away from `step`, to the next job or branch.
    std::int64_t way_on(std::uint32_t node,
                        std::uint32_t step,
                        const std::vector<std::uint32_t>& degree) const {
        std::int64_t way = 0;
        const std::uint32_t first = step;
        while (!job_[node] && degree[node] == 2 && way <= costs_.most) {
            LineGraph::Arc on;
            on.step = kNone;
            for (const LineGraph::Arc arc : graph_.arcs(node)) {
                if (usable(arc.step) && arc.step != step &&
                    (degree[arc.node] > 0 || job_[arc.node])) {
                    on = arc;
                }
            }
            if (on.step == kNone || on.step == first) {
                break;
            }
            way += costs_.way[on.step];
            step = on.step;
            node = on.node;
        }
        return way;
    }

    void weigh_breaks() {
        const std::vector<std::uint32_t> degree = live_degrees();
        for (std::uint32_t i = 0; i < graph_.steps().size(); ++i) {
            const LineGraph::Step& step = graph_.step(i);
            if (!forest_.in_tree[i] && usable(i) && ringed_[step.low]) {
                forest_.breaks.push_back(
                    {i,
                     costs_.way[i] + way_on(step.low, i, degree) + way_on(step.high, i, degree),
                     free_ ? 0 : over(i)});
            }
        }
    }

    const LineGraph& graph_;
    const std::vector<bool>& job_;
    const StepCosts& costs_;
    bool free_;                                 ///< no way costs anything
    const std::vector<std::int64_t>& measure_;  ///< of each step: what short means
    SpanningForest forest_;
    std::vector<bool> ringed_;            ///< of each node: its part has rings and jobs
    std::vector<std::int64_t> distance_;  ///< of each node to its job
};

}  // namespace

SpanningForest spanning_forest(const LineGraph& graph,
                               const std::vector<bool>& job,
                               const StepCosts& costs) {
    return ForestMaker{graph, job, costs}.make();
}

}  // namespace linewood
