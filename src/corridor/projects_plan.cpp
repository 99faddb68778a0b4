#include "src/corridor/projects_plan.hpp"

#include <algorithm>
#include <numeric>

namespace linewood {
namespace {

/// Projects with a job that cannot wait come first, then what removes most risk for the money, then the
/// cheaper one, then by name. Those whose cost is not known come after all that have one.
std::vector<std::uint32_t> rank_projects(const ProjectPlan& plan) {
    const auto projects = plan.projects();
    std::vector<std::uint32_t> order(projects.size());
    std::iota(order.begin(), order.end(), 0U);
    // Projects are in the order of their names, so a stable sort leaves equal ones in it.
    std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        const Project& p = projects[a];
        const Project& q = projects[b];
        if ((p.now > 0) != (q.now > 0)) {
            return p.now > 0;
        }
        if ((p.unpriced == 0) != (q.unpriced == 0)) {
            return p.unpriced == 0;
        }
        const double left = p.risk * q.total().units();
        const double right = q.risk * p.total().units();
        return left != right ? left > right : p.total() < q.total();
    });
    std::vector<std::uint32_t> rank(order.size());
    for (std::uint32_t i = 0; i < order.size(); ++i) {
        rank[order[i]] = i + 1;
    }
    return rank;
}

std::vector<Purchase> purchases_of(const LineModel& line, const ProjectPlan& plan) {
    std::vector<Purchase> purchases;
    purchases.reserve(plan.projects().size());
    for (const Project& p : plan.projects()) {
        purchases.push_back({p.total(), p.risk, p.now > 0, p.unpriced == 0, project_id(line, p)});
    }
    return purchases;
}

void choose(const LineModel& line, const std::vector<Money>& budgets, ProjectsPlan& plan) {
    const auto projects = plan.plan.projects();
    plan.fate.assign(projects.size(), budgets.empty() ? ProjectFate::open : ProjectFate::no_money);
    plan.year.assign(projects.size(), 0);
    if (budgets.empty()) {
        return;
    }
    plan.budget = plan_budget(purchases_of(line, plan.plan), budgets);
    for (std::uint32_t y = 0; y < plan.budget.years.size(); ++y) {
        for (const std::uint32_t p : plan.budget.years[y].now) {
            plan.fate[p] = ProjectFate::taken_first;
            plan.year[p] = y + 1;
        }
        for (const std::uint32_t p : plan.budget.years[y].chosen) {
            plan.fate[p] = ProjectFate::chosen;
            plan.year[p] = y + 1;
        }
    }
    for (const std::uint32_t p : plan.budget.unpriced) {
        plan.fate[p] = ProjectFate::no_price;
    }
}

std::vector<LeftOutPole> left_out_poles(const LineModel& line, const ProjectsPlan& plan) {
    std::vector<bool> rides(line.data().poles.size(), false);
    for (const Project& p : plan.plan.projects()) {
        for (const std::uint32_t pole : plan.plan.rides(p)) {
            rides[pole] = true;
        }
    }
    std::vector<LeftOutPole> left_out;
    for (const std::uint32_t pole : plan.work.repeated) {
        const bool has_id = !line.pole_id(pole).empty();
        left_out.push_back({pole, has_id ? LeftOut::repeated_id : LeftOut::no_id});
    }
    for (const std::uint32_t pole : plan.work.treat) {
        if (!rides[pole]) {
            left_out.push_back({pole, LeftOut::no_project_passes});
        }
    }
    std::sort(left_out.begin(), left_out.end(), [](const LeftOutPole& a, const LeftOutPole& b) {
        return a.pole < b.pole;
    });
    return left_out;
}

template <typename Part>
Money sum_of(const ProjectPlan& plan, Part part) {
    Money sum;
    for (const Project& p : plan.projects()) {
        sum += part(p);
    }
    return sum;
}

}  // namespace

std::string_view name_of(ProjectFate fate) {
    switch (fate) {
        case ProjectFate::open:
            return "open";
        case ProjectFate::taken_first:
            return "taken_first";
        case ProjectFate::chosen:
            return "chosen";
        case ProjectFate::no_money:
            return "no_money";
        case ProjectFate::no_price:
            return "no_price";
    }
    return "";
}

std::string_view name_of(LeftOut why) {
    switch (why) {
        case LeftOut::repeated_id:
            return "repeated_id";
        case LeftOut::no_id:
            return "no_id";
        case LeftOut::no_project_passes:
            return "no_project_passes";
    }
    return "";
}

std::int64_t ProjectsPlan::rides() const {
    std::int64_t rides = 0;
    for (const Project& p : plan.projects()) {
        rides += p.rides;
    }
    return rides;
}

Money ProjectsPlan::mobilisation() const {
    return sum_of(plan, [](const Project& p) { return p.mobilisation; });
}
Money ProjectsPlan::travel() const {
    return sum_of(plan, [](const Project& p) { return p.travel; });
}
Money ProjectsPlan::job_cost() const {
    return sum_of(plan, [](const Project& p) { return p.work; });
}

double ProjectsPlan::grouping_gap() const {
    const double bound = plan.grouping_bound.units();
    return bound > 0.0 ? plan.grouping_cost.units() / bound - 1.0 : 0.0;
}

ProjectsPlan make_projects(const LineModel& line,
                           const ProjectsJob& job,
                           double limit_pct,
                           Findings& findings) {
    ProjectsPlan plan;
    plan.work = list_work(line, job.costs, limit_pct, findings);
    plan.plan =
        plan_projects(line.graph(), line.runs(), plan.work.jobs, plan.work.treat, job.costs.costs);
    plan.rank = rank_projects(plan.plan);
    choose(line, job.budgets, plan);
    plan.left_out = left_out_poles(line, plan);
    return plan;
}

std::string_view grouping_among(const ProjectLimits& limits) {
    return limits.any() ? "groupings in which no pole is on the ways of two projects"
                        : "all groupings";
}

std::string_view project_id(const LineModel& line, const Project& project) {
    return line.pole_id(project.pole);
}

}  // namespace linewood
