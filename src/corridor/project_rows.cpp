#include "src/corridor/project_rows.hpp"

#include <cmath>
#include <utility>

#include "src/corridor/corridor_text.hpp"
#include "src/pipeline/own_field.hpp"
#include "src/pipeline/pole_rows.hpp"

namespace linewood {
namespace {

using own_field::count;
using own_field::flag;
using own_field::number;
using own_field::text;

Cell year_cell(std::uint32_t year) { return year == 0 ? Cell{} : Cell{std::int64_t{year}}; }

/// To a billionth: sums of thousandths show no last digits of binary fractions.
double tidy(double v) { return std::round(v * 1e9) / 1e9; }

}  // namespace

ProjectRows::ProjectRows(const LineModel& line, const ProjectsJob& job, const ProjectsPlan& plan)
    : line_{line},
      job_{job},
      plan_{plan},
      parts_{line.graph(), line.runs()},
      access_{line.data().poles, job.costs.access_field} {}

std::vector<Field> ProjectRows::project_fields() const {
    const std::string& currency = job_.costs.costs.currency;
    return {
        text("project_id", "the project: the least pole_id of its jobs"),
        count("rank", "1 = first: those with jobs that cannot wait, then by risk for the money"),
        text("fate", "open, taken_first, chosen, no_money or no_price"),
        own_field::typed(
            FieldType::integer, "year", "", "year of the budget that pays; null = none"),
        count("jobs", "poles to be replaced or stubbed"),
        count("jobs_now", "of these, of urgency now"),
        count("jobs_replace", "of these, to be replaced"),
        count("jobs_stub", "of these, to be stubbed"),
        count("ride_along", "poles to be treated on the way"),
        number("km", "km", "along the line from job to job, branches included"),
        number("crew_days", "d", "of its jobs"),
        number(
            "cost", currency, "mobilisation, way and jobs; where jobs_unpriced is not 0, at least"),
        number("cost_mobilisation", currency, "once"),
        number("cost_way",
               currency,
               "of the way from job to job: per_km of each span, to a thousandth"),
        number("cost_jobs", currency, "of the jobs that have a price"),
        count("jobs_unpriced", "jobs without a price"),
        number("risk", "", "risk points removed"),
        flag("over_limit", "its one job needs more crew-days than the limit"),
        flag("exact",
             "no cheaper grouping of the jobs around exists; with limits, none in which no pole is "
             "on "
             "the ways of two projects"),
        text("places", "runs with stations"),
    };
}

std::vector<Cell> ProjectRows::project_cells(std::uint32_t i) const {
    const Project& p = plan_.plan.projects()[i];
    const auto of = [&](Verdict v) { return p.verdicts[static_cast<std::size_t>(v)]; };
    return {text_cell(project_id(line_, p)),
            std::int64_t{plan_.rank[i]},
            text_cell(name_of(plan_.fate[i])),
            year_cell(plan_.year[i]),
            p.load.poles,
            p.now,
            of(Verdict::replace),
            of(Verdict::stub),
            std::int64_t{p.rides},
            p.km(),
            p.crew_days(),
            p.total().units(),
            p.mobilisation.units(),
            p.travel.units(),
            p.work.units(),
            p.unpriced,
            tidy(p.risk),
            p.over_limit,
            p.exact,
            text_cell(places_text(line_, parts_.of(plan_.plan, p)))};
}

LineParts ProjectRows::project_path(std::uint32_t i) const {
    LineParts whole;
    for (const RunPart& part : parts_.of(plan_.plan, plan_.plan.projects()[i])) {
        std::vector<Point> line;
        for (const Runs::Stop& stop : line_.runs().stops(part.run)) {
            if (stop.step == kNone || stop.station_m < part.from_m || stop.station_m >= part.to_m) {
                continue;
            }
            const std::vector<Point> next = line_.path(stop.step, stop.pole);
            line.insert(line.end(), next.begin() + (line.empty() ? 0 : 1), next.end());
        }
        if (line.size() > 1) {
            whole.push_back(line_.to_layer(std::move(line)));
        }
    }
    return whole;
}

std::vector<Field> ProjectRows::pole_fields() const {
    const std::string& currency = job_.costs.costs.currency;
    std::vector<Field> fields{
        text("pole_id", "the pole"),
        text("project_id", "its project; null = in none, left_out says why"),
        text("work", "replace, stub or treat"),
        flag("ride_along", "treated on the way of the project, not part of its cost"),
        text("urgency", "now, soon or routine"),
        text("run_id", "start~second pole~end~circuits of its run"),
        number("station_m", "m", "along the run from its start"),
        text("pole_class", "as recorded"),
        number("remaining_pct", "%", "governing remaining strength"),
        number("cost", currency, "of the job; null = no price, or only treated"),
        number("crew_days", "d", "of the job"),
        number("risk", "", "risk points removed"),
        own_field::typed(
            FieldType::integer, "year", "", "year of the budget that pays; null = none"),
        text("fate", "of its project"),
        text("left_out", "repeated_id, no_id or no_project_passes; null = in a project"),
    };
    if (access_.column() != nullptr) {
        fields.push_back(text("access", "how it is reached, as recorded"));
    }
    return fields;
}

std::vector<Cell> ProjectRows::pole_cells(const WorkPole& row) const {
    const AssessedPoles& poles = line_.data().poles;
    const bool counts = line_.counts(row.pole);
    const Runs::Place place = line_.runs().place(row.pole);
    const Project* project = row.project == kNone ? nullptr : &plan_.plan.projects()[row.project];
    const Job* job = row.job == kNone ? nullptr : &plan_.work.jobs[row.job];
    const bool priced = job != nullptr && job->cost.has_value();
    std::vector<Cell> cells{
        text_cell(line_.pole_id(row.pole)),
        project == nullptr ? Cell{} : text_cell(project_id(line_, *project)),
        text_cell(name_of(poles.verdicts[row.pole])),
        project != nullptr && job == nullptr,
        text_cell(name_of(poles.urgencies[row.pole])),
        counts ? text_cell(line_.run_id(place.run)) : Cell{},
        counts ? Cell{place.station_m} : Cell{},
        text_cell(poles.classes.text(row.pole)),
        poles.has_strength(row.pole) ? Cell{poles.remaining_pct[row.pole]} : Cell{},
        priced ? Cell{job->cost->units()} : Cell{},
        priced ? Cell{job->crew_days} : Cell{},
        job != nullptr ? Cell{tidy(job->risk)} : Cell{},
        project == nullptr ? Cell{} : year_cell(plan_.year[row.project]),
        project == nullptr ? Cell{} : text_cell(name_of(plan_.fate[row.project])),
        row.left_out == nullptr ? Cell{} : text_cell(name_of(row.left_out->why))};
    if (access_.column() != nullptr) {
        cells.push_back(text_cell(access_.of(row.pole)));
    }
    return cells;
}

std::vector<WorkPole> ProjectRows::work_poles() const {
    std::vector<WorkPole> rows;
    const auto projects = plan_.plan.projects();
    for (std::uint32_t i = 0; i < projects.size(); ++i) {
        for (const std::uint32_t job : plan_.plan.jobs(projects[i])) {
            rows.push_back({plan_.work.jobs[job].pole, i, job, nullptr});
        }
        for (const std::uint32_t pole : plan_.plan.rides(projects[i])) {
            rows.push_back({pole, i, kNone, nullptr});
        }
    }
    for (const LeftOutPole& left : plan_.left_out) {
        rows.push_back({left.pole, kNone, kNone, &left});
    }
    return rows;
}

std::vector<Field> ProjectRows::budget_fields(const std::string& currency) {
    return {
        count("year", "from 1"),
        number("budget", currency, "money of the year"),
        number("spent", currency, "of it"),
        count("taken_first", "projects with jobs that cannot wait"),
        count("chosen", "other projects"),
        number("risk", "", "risk points removed"),
        number("risk_bound", "", "nobody could remove more with this money after the years before"),
        number("gap_pct", "%", "by how much risk may miss what is possible"),
        flag("exact", "no choice removes more"),
        count("now_left",
              "projects with jobs that cannot wait that are not paid: no money, or no price"),
        count("now_unpriced", "of these, projects with a job without a price"),
        number("now_left_cost", currency, "of all these; where now_unpriced is not 0, at least"),
        count("next_projects", "what another 10 % of the budget would buy"),
        number("next_cost", currency, "of these"),
        number("next_risk", "", "risk points these would remove"),
        text("next_ids", "these, with ; between"),
    };
}

std::vector<Cell> ProjectRows::budget_cells(std::uint32_t year) const {
    const BudgetYear& y = plan_.budget.years[year];
    std::string next;
    for (const std::uint32_t p : y.next) {
        next += next.empty() ? "" : ";";
        next += project_id(line_, plan_.plan.projects()[p]);
    }
    const auto size = [](const std::vector<std::uint32_t>& list) {
        return static_cast<std::int64_t>(list.size());
    };
    return {std::int64_t{year} + 1,
            y.budget.units(),
            y.spent.units(),
            size(y.now),
            size(y.chosen),
            tidy(y.risk),
            tidy(y.risk_bound),
            tidy(y.gap() * 100.0),
            y.exact,
            size(y.now_left),
            static_cast<std::int64_t>(y.now_unpriced),
            y.now_left_cost.units(),
            size(y.next),
            y.next_cost.units(),
            tidy(y.next_risk),
            text_cell(next)};
}

}  // namespace linewood
