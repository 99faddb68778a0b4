#include "geo/corridor/projects.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>
#include <utility>

#include "geo/corridor/ascent_bound.hpp"
#include "geo/corridor/local_tree.hpp"
#include "geo/corridor/spanning_forest.hpp"

namespace linewood {

namespace {

StepCosts step_costs(const LineGraph& graph, const ProjectCosts& costs) {
    StepCosts out;
    out.most = Money::units(costs.mobilisation).thousandths();
    out.way.reserve(graph.steps().size());
    out.millimetres.reserve(graph.steps().size());
    for (const LineGraph::Step& step : graph.steps()) {
        // Units a kilometre times metres are thousandths of a unit.
        out.way.push_back(std::llround(costs.per_km * step.length_m));
        out.millimetres.push_back(std::llround(step.length_m * 1000.0));
    }
    return out;
}

JobLoad limits_of(const ProjectLimits& limits) {
    JobLoad out = JobLoad::no_limit();
    if (limits.poles) {
        out.poles = *limits.poles;
    }
    if (limits.crew_days) {
        out.day_thousandths = std::max<std::int64_t>(1, std::llround(*limits.crew_days * 1e3));
    }
    if (limits.km) {
        out.millimetres = std::max<std::int64_t>(1, std::llround(*limits.km * 1e6));
    }
    return out;
}

std::int64_t days_of(const Job& job) { return std::llround(job.crew_days * 1000.0); }

}  // namespace

/// Plans part by part, in the order of the least pole id of each.
class Planner {
public:
    Planner(const LineGraph& graph,
            const Runs& runs,
            std::span<const Job> jobs,
            const ProjectCosts& costs)
        : graph_{graph},
          runs_{runs},
          jobs_{jobs},
          limits_{limits_of(costs.limits)},
          steps_{step_costs(graph, costs)},
          is_job_(graph.node_count(), false),
          job_at_(graph.node_count(), kNone),
          project_of_(graph.node_count(), kNone) {
        for (std::uint32_t i = 0; i < jobs.size(); ++i) {
            is_job_[graph.node_of(jobs[i].pole)] = true;
            job_at_[graph.node_of(jobs[i].pole)] = i;
        }
    }

    ProjectPlan plan(std::span<const std::uint32_t> treat) {
        const SpanningForest forest = spanning_forest(graph_, is_job_, steps_);
        LocalTrees trees{graph_, forest, steps_, is_job_};
        index_breaks(forest);
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            if (is_job_[node] && !trees.seen(node)) {
                plan_part(trees.around(node));
            }
        }
        name_projects();
        collect_jobs();
        collect_rides(treat);
        collect_steps();
        return std::move(plan_);
    }

private:
    struct Part {
        std::vector<SpanningForest::Break> breaks;
        std::vector<std::int64_t> bridges;
    };

    /// Makes breaks and bridges ready to be found by a node. Breaks that nobody would go along are none.
    void index_breaks(const SpanningForest& forest) {
        for (const SpanningForest::Break& broken : forest.breaks) {
            if (broken.way < steps_.most) {
                breaks_.push_back(broken);  // by their steps, so by the lower nodes of these
            }
        }
        bridges_ = forest.bridges;
        std::sort(bridges_.begin(), bridges_.end(), [](const auto& a, const auto& b) {
            return std::pair{a.node, a.way} < std::pair{b.node, b.way};
        });
    }

    void take_breaks(std::uint32_t node, Part& part) const {
        const auto low = [&](const SpanningForest::Break& b) { return graph_.step(b.step).low; };
        auto broken = std::partition_point(
            breaks_.begin(), breaks_.end(), [&](const auto& b) { return low(b) < node; });
        for (; broken != breaks_.end() && low(*broken) == node; ++broken) {
            part.breaks.push_back(*broken);
        }
        auto bridge = std::partition_point(
            bridges_.begin(), bridges_.end(), [&](const auto& b) { return b.node < node; });
        for (; bridge != bridges_.end() && bridge->node == node; ++bridge) {
            part.bridges.push_back(bridge->way);
        }
    }

    /// No grouping of the part costs less than this.
    std::int64_t bound_of(const LocalTree& local,
                          const Part& part,
                          const LimitCut& cut,
                          const JobLoad& jobs,
                          std::int64_t cost) {
        if (part.breaks.empty()) {
            return cost - cut.slack;
        }
        std::int64_t half = steps_.most;
        for (const std::int64_t way : part.bridges) {
            half += std::min(steps_.most, way / 2);
        }
        // Limits may have cut where a ring had better been left whole: then what was joined over the
        // break costs a mobilisation more, and no less can be said.
        std::int64_t bound = cost - cut.slack;
        for (const SpanningForest::Break& broken : part.breaks) {
            bound -= cut.any ? steps_.most - broken.way : broken.loss(steps_.most);
        }
        if (bound < cost && jobs_.size() <= AscentBound::kMostJobs) {
            bound = std::max(bound, bound_by_ascent(local, jobs, cut.any));
        }
        if (cut.any) {
            bound = std::max(
                bound,
                limited_bound(local.tree, local.way_mm, part.breaks, steps_.most, jobs, limits_));
        }
        return std::min(cost, std::max(bound, half));
    }

    /// With limits the best for a few prices put on each project (Lagrange).
    std::int64_t bound_by_ascent(const LocalTree& local, const JobLoad& jobs, bool limited) {
        std::vector<std::uint32_t> nodes;
        for (std::size_t i = 0; i < local.node.size(); ++i) {
            if (local.tree.must[i]) {
                nodes.push_back(local.node[i]);
            }
        }
        std::sort(nodes.begin(), nodes.end());
        if (!ascent_) {
            ascent_.emplace(graph_, steps_);
        }
        std::int64_t best = ascent_->of(nodes, steps_.most);
        const std::int64_t least = least_projects(jobs, limits_);
        for (std::int64_t quarter = 1; quarter <= 3 && limited && least > 1; ++quarter) {
            const std::int64_t less = steps_.most / 4 * quarter;
            best = std::max(best, ascent_->of(nodes, steps_.most - less) + less * least);
        }
        return best;
    }

    void plan_part(const LocalTree& local) {
        Part part;
        std::vector<std::int64_t> days(local.node.size(), 0);
        JobLoad jobs;
        for (std::size_t i = 0; i < local.node.size(); ++i) {
            take_breaks(local.node[i], part);
            if (local.tree.must[i]) {
                days[i] = days_of(jobs_[job_at_[local.node[i]]]);
                jobs = jobs + JobLoad{1, std::min(days[i], limits_.day_thousandths), 0};
            }
        }
        StretchChoice choice = choose_stretches(local.tree, steps_.most);
        const LimitCut cut = cut_to_limits(local, days, steps_.most, limits_, choice);
        const std::size_t first = plan_.projects_.size();
        const std::int64_t cost = add_projects(local, days, choice);
        const std::int64_t bound = bound_of(local, part, cut, jobs, cost);
        plan_.grouping_cost += Money::thousandths(cost);
        plan_.grouping_bound += Money::thousandths(bound);
        for (std::size_t i = first; i < plan_.projects_.size(); ++i) {
            plan_.projects_[i].exact = bound == cost;
        }
    }

    /// Makes a project of every stretch. What they cost together.
    std::int64_t add_projects(const LocalTree& local,
                              const std::vector<std::int64_t>& days,
                              const StretchChoice& choice) {
        const std::vector<std::uint32_t> root = stretch_roots(local.tree, choice);
        std::vector<std::uint32_t> project_of_root(root.size(), kNone);
        std::int64_t cost = 0;
        for (std::uint32_t i = 0; i < root.size(); ++i) {
            if (root[i] == kNone) {
                continue;
            }
            if (root[i] == i) {
                project_of_root[i] = static_cast<std::uint32_t>(plan_.projects_.size());
                Project& fresh = plan_.projects_.emplace_back();
                fresh.mobilisation = Money::thousandths(steps_.most);
                cost += steps_.most;
            }
            const std::uint32_t at = project_of_root[root[i]];
            project_of_[local.node[i]] = at;
            Project& project = plan_.projects_[at];
            if (choice.joined[i]) {
                used_steps_.emplace_back(at, local.step[i]);
                project.travel += Money::thousandths(local.tree.way[i]);
                project.load.millimetres += local.way_mm[i];
                cost += local.tree.way[i];
            }
            if (local.tree.must[i]) {
                ++project.load.poles;
                project.load.day_thousandths += days[i];
            }
        }
        return cost;
    }

    /// Puts the projects in the order of their least nodes, and numbers them anew.
    void name_projects() {
        std::vector<std::uint32_t> fresh(plan_.projects_.size(), kNone);
        std::vector<Project> ordered;
        ordered.reserve(fresh.size());
        for (std::uint32_t node = 0; node < graph_.node_count(); ++node) {
            std::uint32_t& project = project_of_[node];
            if (is_job_[node] && fresh[project] == kNone) {
                fresh[project] = static_cast<std::uint32_t>(ordered.size());
                ordered.push_back(plan_.projects_[project]);
                ordered.back().pole = graph_.pole_of(node);
            }
        }
        for (std::uint32_t& project : project_of_) {
            project = project == kNone ? kNone : fresh[project];
        }
        for (auto& [project, step] : used_steps_) {
            project = fresh[project];
        }
        plan_.projects_ = std::move(ordered);
    }

    /// Jobs in the order of projects, then places; their sums in the same order.
    void collect_jobs() {
        plan_.jobs_.resize(jobs_.size());
        std::iota(plan_.jobs_.begin(), plan_.jobs_.end(), 0U);
        sort_by_place(plan_.jobs_, [&](std::uint32_t job) { return jobs_[job].pole; });
        for (std::uint32_t i = 0; i < plan_.jobs_.size(); ++i) {
            const Job& job = jobs_[plan_.jobs_[i]];
            Project& project = plan_.projects_[project_at(job.pole)];
            project.first_job = project.jobs == 0 ? i : project.first_job;
            ++project.jobs;
            ++project.verdicts[static_cast<std::size_t>(job.verdict)];
            project.now += job.now ? 1 : 0;
            project.risk += job.risk;
            if (job.cost) {
                project.work += *job.cost;
            } else {
                ++project.unpriced;
            }
        }
        for (Project& project : plan_.projects_) {
            project.over_limit = !project.load.within(limits_);
        }
    }

    void collect_rides(std::span<const std::uint32_t> treat) {
        for (const std::uint32_t pole : treat) {
            if (project_at(pole) != kNone && !is_job_[graph_.node_of(pole)]) {
                plan_.rides_.push_back(pole);
            }
        }
        sort_by_place(plan_.rides_, [](std::uint32_t pole) { return pole; });
        for (std::uint32_t i = 0; i < plan_.rides_.size(); ++i) {
            Project& project = plan_.projects_[project_at(plan_.rides_[i])];
            project.first_ride = project.rides == 0 ? i : project.first_ride;
            ++project.rides;
        }
    }

    void collect_steps() {
        std::sort(used_steps_.begin(), used_steps_.end());
        for (std::uint32_t i = 0; i < used_steps_.size(); ++i) {
            const auto [at, step] = used_steps_[i];
            Project& project = plan_.projects_[at];
            project.first_step = project.steps == 0 ? i : project.first_step;
            ++project.steps;
            project.length_m += graph_.step(step).length_m;
            plan_.steps_.push_back(step);
        }
    }

    std::uint32_t project_at(std::uint32_t pole) const { return project_of_[graph_.node_of(pole)]; }

    /// Sorts what stands at poles by project, run, station, node.
    template <typename PoleOf>
    void sort_by_place(std::vector<std::uint32_t>& items, PoleOf pole_of) const {
        struct Key {
            std::uint32_t project;
            std::uint32_t run;
            double station_m;
            std::uint32_t node;
            std::uint32_t item;
        };
        std::vector<Key> keys;
        keys.reserve(items.size());
        for (const std::uint32_t item : items) {
            const std::uint32_t pole = pole_of(item);
            const Runs::Place place = runs_.place(pole);
            keys.push_back(
                {project_at(pole), place.run, place.station_m, graph_.node_of(pole), item});
        }
        std::sort(keys.begin(), keys.end(), [](const Key& a, const Key& b) {
            return std::tie(a.project, a.run, a.station_m, a.node) <
                   std::tie(b.project, b.run, b.station_m, b.node);
        });
        for (std::size_t i = 0; i < items.size(); ++i) {
            items[i] = keys[i].item;
        }
    }

    const LineGraph& graph_;
    const Runs& runs_;
    std::span<const Job> jobs_;
    JobLoad limits_;
    StepCosts steps_;
    std::vector<bool> is_job_;               ///< of each node
    std::vector<std::uint32_t> job_at_;      ///< of each node
    std::vector<std::uint32_t> project_of_;  ///< of each node in a stretch
    std::vector<SpanningForest::Break> breaks_;
    std::vector<SpanningForest::Bridge> bridges_;
    std::vector<std::pair<std::uint32_t, std::uint32_t>> used_steps_;  ///< project and step
    std::optional<AscentBound> ascent_;  ///< made where there are rings
    ProjectPlan plan_;
};

ProjectPlan plan_projects(const LineGraph& graph,
                          const Runs& runs,
                          std::span<const Job> jobs,
                          std::span<const std::uint32_t> treat,
                          const ProjectCosts& costs) {
    return Planner{graph, runs, jobs, costs}.plan(treat);
}

}  // namespace linewood
