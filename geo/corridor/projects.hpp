#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/corridor/job_split.hpp"
#include "geo/corridor/line_graph.hpp"
#include "geo/corridor/money.hpp"
#include "geo/corridor/project_costs.hpp"
#include "geo/corridor/runs.hpp"

namespace linewood {

/// One pole that must be worked on.
struct Job {
    std::uint32_t pole = 0;
    std::optional<Money> cost;  ///< absent = no price is known, which is not a price of nothing
    double crew_days = 0.0;
    double risk = 0.0;  ///< removed by doing it, in any unit that adds up
    Verdict verdict = Verdict::replace;
    bool now = false;  ///< of urgency `now`
};

/// Jobs that one crew does in one go: a connected stretch of the network.
struct Project {
    std::uint32_t pole =
        0;  ///< the one of its jobs with the least pole id: that id names the project
    std::uint32_t first_job = 0;  ///< see ProjectPlan::jobs()
    std::uint32_t jobs = 0;
    std::uint32_t first_ride = 0;  ///< see ProjectPlan::rides()
    std::uint32_t rides = 0;
    std::uint32_t first_step = 0;  ///< see ProjectPlan::steps()
    std::uint32_t steps = 0;
    /// Jobs, their crew-days, and the stretch from job to job: its spans to a millimetre each, as limits
    /// count them.
    JobLoad load;
    double length_m = 0.0;  ///< of the stretch, as its spans are recorded
    Money mobilisation;
    Money travel;  ///< of the stretch
    Money work;    ///< of the jobs that have a price
    double risk = 0.0;
    std::array<std::int64_t, kVerdictCount> verdicts{};  ///< of its jobs, in the order of Verdict
    std::int64_t now = 0;                                ///< jobs of urgency `now`
    std::int64_t unpriced = 0;  ///< jobs without a price: the cost is at least total()
    bool over_limit = false;    ///< one job that passes a limit alone
    bool exact = true;  ///< no cheaper grouping of the jobs around exists, see plan_projects()

    Money total() const { return mobilisation + travel + work; }
    double km() const { return length_m / 1e3; }
    double crew_days() const { return static_cast<double>(load.day_thousandths) / 1e3; }
};

/// All projects, in the order of their names.
class ProjectPlan {
public:
    std::span<const Project> projects() const { return projects_; }
    /// Positions in the jobs given, in the order of their places (run, station).
    std::span<const std::uint32_t> jobs(const Project& p) const {
        return std::span{jobs_}.subspan(p.first_job, p.jobs);
    }
    /// Poles in the stretch that need no crew of their own but can be treated on the way, in the
    /// order of their places.
    std::span<const std::uint32_t> rides(const Project& p) const {
        return std::span{rides_}.subspan(p.first_ride, p.rides);
    }
    /// The stretch: steps of the graph, ascending. None for one pole.
    std::span<const std::uint32_t> steps(const Project& p) const {
        return std::span{steps_}.subspan(p.first_step, p.steps);
    }

    /// Mobilisations and travel of all projects; what the jobs cost themselves cannot be changed.
    Money grouping_cost;
    /// No grouping costs less than this, with limits none in which projects share no pole; the same where
    /// every project is exact.
    Money grouping_bound;

private:
    friend class Planner;
    std::vector<Project> projects_;
    std::vector<std::uint32_t> jobs_;
    std::vector<std::uint32_t> rides_;
    std::vector<std::uint32_t> steps_;
};

/// Groups jobs into projects so that mobilisations and travel together cost least.
///
/// - Every job is in exactly one project. A project costs `mobilisation` once and `per_km` for each
///   kilometre of its stretch: the spans that join its jobs, each once, branches too.
/// - So two jobs that follow each other are in one project exactly where the way between costs no
///   more than another mobilisation; across a junction the same holds of the whole branching stretch
///   (StretchTree).
/// - Limits split a stretch where that is cheapest. A project is then a part of the stretch without a
///   gap: two crews do not work in turns along the same poles. Exactness and `grouping_bound` are then said
///   of such groupings only, in which no pole is on the ways of two projects: one in which a crew drives
///   past another's poles can fill the limits better and cost less.
/// - **Exact** on networks without rings, and with limits on every run and where stretches that branch
///   have few plans (job_split.hpp). Where the line has rings a spanning tree of shortest ways to jobs
///   is planned on (SpanningForest): never over twice the least cost without limits, mostly it.
///   `grouping_bound` is from below: what was joined over the place where a ring was broken can be
///   joined for little more without it (SpanningForest::Break); half of the shortest tree over all
///   jobs; up to 20,000 jobs dual ascent (AscentBound); with limits, Lagrange bounds on the number of
///   projects and on the kilometres.
/// - Money is in thousandths of its unit, ways in millimetres, crew-days in thousandths: the limits
///   are met when reached exactly, and the same jobs give the same projects whatever their order.
///
/// @param jobs one a pole; `pole` below the number of poles.
/// @param treat poles that can be treated on the way; jobs among them do not count.
/// @pre price_list_fault(costs) is empty; `prices` is not read.
/// Cost: about 3 s and 300 bytes a pole for a million.
ProjectPlan plan_projects(const LineGraph& graph,
                          const Runs& runs,
                          std::span<const Job> jobs,
                          std::span<const std::uint32_t> treat,
                          const ProjectCosts& costs);

/// Where a project is on a run, in metres from its start.
struct RunPart {
    std::uint32_t run = 0;
    double from_m = 0.0;
    double to_m = 0.0;

    friend bool operator==(const RunPart&, const RunPart&) = default;
};

/// Finds the parts of runs that projects cover.
class RunParts {
public:
    /// The runs must outlive it.
    RunParts(const LineGraph& graph, const Runs& runs);

    /// In the order of runs and stations; parts that touch are one, but not over the start of a ring.
    /// A project of one pole has one part without length, at the place the pole is given.
    std::vector<RunPart> of(const ProjectPlan& plan, const Project& project) const;

private:
    struct Leg {
        std::uint32_t run = 0;
        std::uint32_t stop = 0;
    };
    const Runs& runs_;
    std::vector<Leg> leg_of_;  ///< of each step
};

}  // namespace linewood
