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

template <typename Part>
std::int64_t sum_of(const ProjectsPlan& plan, Part part) {
    std::int64_t sum = 0;
    for (const Project& p : plan.plan.projects()) {
        sum += part(p);
    }
    return sum;
}

std::int64_t unpriced_jobs(const ProjectsPlan& plan) {
    return sum_of(plan, [](const Project& p) { return p.unpriced; });
}
std::int64_t now_jobs(const ProjectsPlan& plan) {
    return sum_of(plan, [](const Project& p) { return p.now; });
}
std::int64_t over_limit(const ProjectsPlan& plan) {
    return sum_of(plan, [](const Project& p) { return p.over_limit ? 1 : 0; });
}
double km(const ProjectsPlan& plan) {
    double metres = 0.0;
    for (const Project& p : plan.plan.projects()) {
        metres += p.length_m;
    }
    return metres / 1e3;
}
double crew_days(const ProjectsPlan& plan) {
    return static_cast<double>(
               sum_of(plan, [](const Project& p) { return p.load.day_thousandths; })) /
           1e3;
}

std::string budget_text(const std::string& currency, const ProjectsPlan& plan) {
    std::string out;
    int number = 0;
    for (const BudgetYear& y : plan.budget.years) {
        out += fmt::format(
            "year {}: {} of {} {}: {} first (cannot wait), {} by risk for the money; {} risk "
            "points",
            ++number,
            money_text(y.spent),
            money_text(y.budget),
            currency,
            count_words(size_of(y.now), "project", "projects"),
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

/// What cannot wait and is in no year.
void add_now_left(const BudgetYear& last,
                  const std::string& currency,
                  std::vector<std::string>& warnings) {
    const auto unpriced = static_cast<std::int64_t>(last.now_unpriced);
    const std::int64_t short_of_money = size_of(last.now_left) - unpriced;
    std::string text;
    if (short_of_money > 0) {
        text = fmt::format("the money of all years is not enough for {} with jobs that cannot wait",
                           count_words(short_of_money, "project", "projects"));
    }
    if (unpriced > 0) {
        text += fmt::format(
            "{}{} with jobs that cannot wait {} in no year, because a job has no price: add a row "
            "to "
            "the costs",
            text.empty() ? "" : ", and ",
            count_words(unpriced, "project", "projects"),
            unpriced == 1 ? "is" : "are");
    }
    warnings.push_back(fmt::format("{}; {}{} {} more would be needed",
                                   text,
                                   unpriced > 0 ? "at least " : "",
                                   money_text(last.now_left_cost),
                                   currency));
}

}  // namespace

std::string projects_summary_text(const LineModel& line,
                                  const ProjectsJob& job,
                                  const ProjectsPlan& plan) {
    const std::string& currency = job.costs.costs.currency;
    const std::int64_t jobs = size_of(plan.work.jobs);
    const std::int64_t treat = size_of(plan.work.treat);
    const std::int64_t repeated = size_of(plan.work.repeated);
    std::string out = fmt::format("{} in {}; {}: {} ({} cannot wait), {} to treat",
                                  count_words(line.data().pole_rows, "pole", "poles"),
                                  count_words(size_of(line.runs().runs()), "run", "runs"),
                                  count_words(jobs + treat + repeated, "work pole", "work poles"),
                                  count_words(jobs, "job", "jobs"),
                                  grouped(now_jobs(plan)),
                                  grouped(treat));
    out += repeated > 0 ? fmt::format(", {} of a repeated id or none\n", grouped(repeated)) : "\n";
    out += fmt::format("{} for {}; {} treated on the way, {} left out\n",
                       count_words(size_of(plan.rank), "project", "projects"),
                       count_words(jobs, "job", "jobs"),
                       count_words(plan.rides(), "pole", "poles"),
                       grouped(size_of(plan.left_out)));
    out += fmt::format(
        "way {} km, crew-days {}\n", plain_text(km(plan), 3), plain_text(crew_days(plan), 3));
    out += fmt::format("cost {} {} = mobilisation {} + way {} + jobs {}\n",
                       money_text(plan.total()),
                       currency,
                       money_text(plan.mobilisation()),
                       money_text(plan.travel()),
                       money_text(plan.job_cost()));
    const std::string_view among = grouping_among(job.costs.costs.limits);
    out += plan.plan.grouping_cost == plan.plan.grouping_bound
               ? fmt::format("mobilisation and way are the least of {}\n", among)
               : fmt::format("mobilisation and way are at most {} % over the least of {}\n",
                             plain_text(plan.grouping_gap() * 100.0, 2),
                             among);
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
            {"projects_over_limit", over_limit(plan)},
            {"km", km(plan)},
            {"crew_days", crew_days(plan)},
            {"cost", plan.total().units()},
            {"cost_mobilisation", plan.mobilisation().units()},
            {"cost_way", plan.travel().units()},
            {"cost_jobs", plan.job_cost().units()},
            {"grouping_cost", plan.plan.grouping_cost.units()},
            {"grouping_bound", plan.plan.grouping_bound.units()},
            {"grouping_among", std::string{grouping_among(job.costs.costs.limits)}}};
}

std::vector<std::string> projects_warnings(const ProjectsJob& job, const ProjectsPlan& plan) {
    std::vector<std::string> warnings;
    const std::int64_t unpriced = unpriced_jobs(plan);
    if (unpriced > 0) {
        warnings.push_back(
            fmt::format("{} without a price: no row of the costs fits, so the projects cost more "
                        "than shown and no budget can take them; add a row",
                        count_words(unpriced, "job", "jobs")));
    }
    if (over_limit(plan) > 0) {
        warnings.push_back(fmt::format(
            "{} of a single job that needs more than the {} crew-days of the limit, so that "
            "nothing could be split (over_limit); raise the limit, or share the job out",
            count_words(over_limit(plan), "project", "projects"),
            plain_text(job.costs.costs.limits.crew_days.value_or(0.0), 3)));
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
        warnings.push_back(fmt::format("{} without {}; if_absent stands for it",
                                       count_words(plan.work.without_consequence, "job", "jobs"),
                                       job.costs.consequence_field));
    }
    if (plan.work.unread_consequence > 0) {
        warnings.push_back(
            fmt::format("{} whose {} is neither a number nor yes or no, such as \"{}\"; if_absent "
                        "stands for it (findings lists them)",
                        count_words(plan.work.unread_consequence, "job", "jobs"),
                        job.costs.consequence_field,
                        plan.work.unread_example));
    }
    if (!plan.budget.years.empty() && !plan.budget.years.back().now_left.empty()) {
        add_now_left(plan.budget.years.back(), job.costs.costs.currency, warnings);
    }
    return warnings;
}

}  // namespace linewood
