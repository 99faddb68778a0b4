#include "src/corridor/projects_summary.hpp"

#include <fmt/format.h>

#include "src/corridor/corridor_text.hpp"
#include "src/report/figures.hpp"

namespace linewood {
namespace {

template <typename List>
std::int64_t size_of(const List& list) {
    return static_cast<std::int64_t>(list.size());
}

std::int64_t unpriced_jobs(const ProjectsPlan& plan) {
    std::int64_t jobs = 0;
    for (const Project& p : plan.plan.projects()) {
        jobs += p.unpriced;
    }
    return jobs;
}

std::int64_t now_jobs(const ProjectsPlan& plan) {
    std::int64_t jobs = 0;
    for (const Project& p : plan.plan.projects()) {
        jobs += p.now;
    }
    return jobs;
}

std::string budget_text(const std::string& currency, const ProjectsPlan& plan) {
    std::string out;
    int number = 0;
    for (const BudgetYear& y : plan.budget.years) {
        out += fmt::format(
            "year {}: {} of {} {}: {} projects first (cannot wait), {} by risk for "
            "the money; {} risk points",
            ++number,
            money_text(y.spent),
            money_text(y.budget),
            currency,
            grouped(size_of(y.now)),
            grouped(size_of(y.chosen)),
            plain_text(y.risk, 2));
        out += y.exact ? ", the most possible\n"
                       : fmt::format(" of at most {} ({} % short at most)\n",
                                     plain_text(y.risk_bound, 2),
                                     plain_text(y.gap() * 100.0, 3));
        out += fmt::format("        another 10 % would buy {} more for {}: {} points\n",
                           grouped(size_of(y.next)),
                           money_text(y.next_cost),
                           plain_text(y.next_risk, 2));
    }
    return out;
}

}  // namespace

std::string projects_summary_text(const LineModel& line,
                                  const ProjectsJob& job,
                                  const ProjectsPlan& plan) {
    const std::string& currency = job.costs.costs.currency;
    const std::int64_t jobs = size_of(plan.work.jobs);
    const std::int64_t treat = size_of(plan.work.treat);
    const std::int64_t repeated = size_of(plan.work.repeated);
    std::string out =
        fmt::format("{} poles in {} runs; {} work poles: {} jobs ({} cannot wait), {} to treat",
                    grouped(line.data().pole_rows),
                    grouped(size_of(line.runs().runs())),
                    grouped(jobs + treat + repeated),
                    grouped(jobs),
                    grouped(now_jobs(plan)),
                    grouped(treat));
    out += repeated > 0 ? fmt::format(", {} of a repeated id\n", grouped(repeated)) : "\n";
    out +=
        fmt::format("{} projects hold the {} jobs; {} poles are treated on the way, {} left out\n",
                    grouped(size_of(plan.rank)),
                    grouped(jobs),
                    grouped(plan.rides()),
                    grouped(size_of(plan.left_out)));
    out += fmt::format("cost {} {} = mobilisation {} + way {} + jobs {}\n",
                       money_text(plan.total()),
                       currency,
                       money_text(plan.mobilisation()),
                       money_text(plan.travel()),
                       money_text(plan.job_cost()));
    out += plan.plan.grouping_cost == plan.plan.grouping_bound
               ? std::string{"no grouping has less mobilisation and way\n"}
               : fmt::format("mobilisation and way are at most {} % over the least possible\n",
                             plain_text(plan.grouping_gap() * 100.0, 2));
    return out + budget_text(currency, plan);
}

nlohmann::ordered_json projects_totals_json(const ProjectsJob& job, const ProjectsPlan& plan) {
    return {{"currency", job.costs.costs.currency},
            {"work_poles",
             size_of(plan.work.jobs) + size_of(plan.work.treat) + size_of(plan.work.repeated)},
            {"jobs", size_of(plan.work.jobs)},
            {"jobs_now", now_jobs(plan)},
            {"jobs_unpriced", unpriced_jobs(plan)},
            {"ride_along", plan.rides()},
            {"left_out", size_of(plan.left_out)},
            {"treated_already", plan.work.treated},
            {"projects", size_of(plan.rank)},
            {"cost", plan.total().units()},
            {"cost_mobilisation", plan.mobilisation().units()},
            {"cost_way", plan.travel().units()},
            {"cost_jobs", plan.job_cost().units()},
            {"grouping_cost", plan.plan.grouping_cost.units()},
            {"grouping_bound", plan.plan.grouping_bound.units()}};
}

std::vector<std::string> projects_warnings(const ProjectsJob& job, const ProjectsPlan& plan) {
    std::vector<std::string> warnings;
    const std::int64_t unpriced = unpriced_jobs(plan);
    if (unpriced > 0) {
        warnings.push_back(
            fmt::format("{} jobs have no price: no row of the costs fits them, so their projects "
                        "cost more than "
                        "shown and no budget can take them; add a row for them",
                        grouped(unpriced)));
    }
    for (std::size_t i = 0; i < plan.work.used.size(); ++i) {
        if (plan.work.used[i] == 0) {
            warnings.push_back(fmt::format(
                "prices[{}] of the costs fits no job; is a label misspelt, or is a row before it "
                "more general?",
                i));
        }
    }
    if (plan.work.without_consequence > 0) {
        warnings.push_back(fmt::format("{} jobs have no {}; if_absent stands for it",
                                       grouped(plan.work.without_consequence),
                                       job.costs.consequence_field));
    }
    if (!plan.budget.years.empty() && !plan.budget.years.back().now_left.empty()) {
        const BudgetYear& last = plan.budget.years.back();
        warnings.push_back(fmt::format(
            "the money of all years is not enough for {} projects with jobs that cannot wait; they "
            "cost {} {} more",
            grouped(size_of(last.now_left)),
            money_text(last.now_left_cost),
            job.costs.costs.currency));
    }
    return warnings;
}

}  // namespace linewood
