#include "src/corridor/project_sheet.hpp"

#include <algorithm>
#include <cstdlib>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "src/corridor/corridor_text.hpp"
#include "src/corridor/project_map.hpp"
#include "src/corridor/short_labels.hpp"
#include "src/corridor/strip_diagram.hpp"
#include "src/job/cautions.hpp"
#include "src/report/figures.hpp"
#include "src/report/html_table.hpp"
#include "src/report/svg.hpp"
#include "src/report/worksheet_page.hpp"

namespace linewood {
namespace {

/// How far around a project the line is shown on its map, in spans.
constexpr int kMapRings = 6;
constexpr std::size_t kMostMapSteps = 4000;
constexpr std::size_t kMostLabels = 60;
constexpr double kAroundM = 200.0;

/// The lines of a project and of what is around it.
class MapLines {
public:
    MapLines(const LineModel& line, const ProjectPlan& plan, const Project& project) : line_{line} {
        for (const std::uint32_t step : plan.steps(project)) {
            add(step, true);
            reach(line.graph().step(step).low);
            reach(line.graph().step(step).high);
        }
        reach(line.graph().node_of(project.pole));
        for (int ring = 0; ring < kMapRings && lines_.size() < kMostMapSteps; ++ring) {
            spread();
        }
    }
    std::vector<MapLine> take() { return std::move(lines_); }

private:
    void reach(std::uint32_t node) {
        if (nodes_.insert(node).second) {
            edge_.push_back(node);
        }
    }
    void add(std::uint32_t step, bool of_project) {
        if (steps_.insert(step).second) {
            const std::uint32_t from = line_.graph().pole_of(line_.graph().step(step).low);
            lines_.push_back({line_.path(step, from), of_project});
        }
    }
    void spread() {
        const std::vector<std::uint32_t> from = std::move(edge_);
        edge_.clear();
        for (const std::uint32_t node : from) {
            for (const LineGraph::Arc arc : line_.graph().arcs(node)) {
                add(arc.step, false);
                reach(arc.node);
            }
        }
    }

    const LineModel& line_;
    std::set<std::uint32_t> nodes_;
    std::set<std::uint32_t> steps_;
    std::vector<std::uint32_t> edge_;
    std::vector<MapLine> lines_;
};

/// What the ellipsis of all ids that are cut stands for; nothing where none is, or where they differ.
std::optional<std::string_view> common_cut(const std::vector<StripPart>& strips) {
    std::optional<std::string_view> common;
    for (const StripPart& strip : strips) {
        for (const StripPole& pole : strip.poles) {
            if (pole.label == pole.id) {
                continue;
            }
            const auto cut = left_out_of(pole.id, pole.label);
            if (!cut || (common && *common != *cut)) {
                return std::nullopt;
            }
            common = cut;
        }
    }
    return common;
}

std::string_view why_words(LeftOut why) {
    switch (why) {
        case LeftOut::repeated_id:
            return "another pole before it has its id";
        case LeftOut::no_id:
            return "it has no id";
        case LeftOut::no_project_passes:
            return "to be treated, and no project passes it";
    }
    return "";
}

}  // namespace

ProjectSheets::ProjectSheets(const LineModel& line,
                             const ProjectsJob& job,
                             const ProjectsPlan& plan,
                             const std::vector<std::string>& files,
                             std::string made_by)
    : line_{line},
      job_{job},
      plan_{plan},
      files_{files},
      made_by_{std::move(made_by)},
      parts_{line.graph(), line.runs()},
      deflection_{line.data().poles, "line_deflection"},
      mark_{line.data().poles, job.mark_field},
      access_{line.data().poles, job.costs.access_field},
      reasons_{line.data().poles, "reasons"} {}

std::string ProjectSheets::amount(Money money) const {
    return money_text(money) + " " + job_.costs.costs.currency;
}

std::string ProjectSheets::fate_text(std::uint32_t i) const {
    switch (plan_.fate[i]) {
        case ProjectFate::open:
            return "no budget was given";
        case ProjectFate::taken_first:
            return fmt::format("year {}: taken first, it has jobs that cannot wait", plan_.year[i]);
        case ProjectFate::chosen:
            return fmt::format("year {}: chosen for the risk it removes for its money",
                               plan_.year[i]);
        case ProjectFate::no_money:
            return project(i).now > 0
                       ? "in no year: the money is not enough, though it has jobs that cannot wait"
                       : "in no year: the money is not enough";
        case ProjectFate::no_price:
            return "in no year: a job has no price, so its cost is not known";
    }
    return "";
}

std::string ProjectSheets::page(std::uint32_t i) const {
    const Project& p = project(i);
    const std::string title = fmt::format("Project {}", project_id(line_, p));
    std::string out = page_head(title, job_.paper, true);
    out += "<h1><bdi>" + svg_escape(title) + "</bdi></h1>\n";
    add_paragraph(out, made_by_, "made");
    add_summary(i, out);
    add_costs(p, out);
    add_map(p, out);
    add_strips(p, out);
    add_jobs(p, out);
    add_rides(p, out);
    add_parts(p, out);
    for (const std::string_view caution : kCautions) {
        add_paragraph(out, caution, "made");
    }
    return out + page_foot();
}

void ProjectSheets::add_summary(std::uint32_t i, std::string& out) const {
    const Project& p = project(i);
    if (p.now > 0) {
        add_paragraph(out,
                      count_words(p.now, "job cannot wait.", "jobs cannot wait.") +
                          " Marked with a second line around.",
                      "warning");
    }
    HtmlTable table{out, "Summary"};
    table.row({"Jobs",
               fmt::format("{}: {} replace, {} stub",
                           grouped(p.load.poles),
                           grouped(p.verdicts[static_cast<std::size_t>(Verdict::replace)]),
                           grouped(p.verdicts[static_cast<std::size_t>(Verdict::stub)]))});
    table.row({"Treated on the way", count_words(p.rides, "pole", "poles")});
    table.row(
        {"Where",
         count_words(
             static_cast<std::int64_t>(parts_of(p).size()), "part of a run", "parts of runs") +
             ", see below"});
    table.row({"Way from job to job", plain_text(p.km(), 3) + " km"});
    table.row({"Crew-days", plain_text(p.crew_days(), 3)});
    table.row({"Risk points removed", plain_text(p.risk, 2)});
    table.row({"Rank",
               fmt::format("{} of {}",
                           grouped(plan_.rank[i]),
                           grouped(static_cast<std::int64_t>(plan_.rank.size())))});
    table.row({"Budget", fate_text(i)});
    if (p.over_limit) {
        table.row({"Limits",
                   fmt::format("its one job needs {} crew-days, over the limit of {}",
                               plain_text(p.crew_days(), 3),
                               plain_text(job_.costs.costs.limits.crew_days.value_or(0.0), 3))});
    }
    table.row({"Grouping",
               p.exact ? fmt::format("the cheapest of {}", grouping_among(job_.costs.costs.limits))
                       : std::string{"a cheaper grouping of these jobs may exist; the list of "
                                     "projects says by how much at most"}});
    table.finish();
}

std::string ProjectSheets::way_text(const Project& p) const {
    const double per_km = job_.costs.costs.per_km;
    std::string text =
        fmt::format("{} km at {}", plain_text(p.km(), 6), money_text(Money::units(per_km)));
    if (Money::units(per_km * p.km()) != p.travel) {
        text += fmt::format(", the sum of {} to a thousandth each",
                            count_words(p.steps, "span", "spans"));
    }
    return text;
}

void ProjectSheets::add_costs(const Project& p, std::string& out) const {
    HtmlTable table{out, "Cost, " + job_.costs.costs.currency, {"Item", "How", "Amount"}};
    table.row({"Mobilisation", "once", money_text(p.mobilisation)});
    table.row({"Way", way_text(p), money_text(p.travel)});
    table.row({"Jobs",
               count_words(p.load.poles - p.unpriced, "job with a price", "jobs with a price"),
               money_text(p.work)});
    if (p.unpriced > 0) {
        table.row({"Without a price", count_words(p.unpriced, "job", "jobs"), "not known"});
    }
    table.row({p.unpriced > 0 ? "At least" : "Total", "", money_text(p.total())});
    table.finish();
}

void ProjectSheets::add_map(const Project& p, std::string& out) const {
    ProjectMap map;
    const std::string title{project_id(line_, p)};
    map.title = title;
    map.lines = MapLines{line_, plan_.plan, p}.take();
    const AssessedPoles& poles = line_.data().poles;
    std::vector<std::string_view> ids;
    for (const std::uint32_t j : plan_.plan.jobs(p)) {
        ids.push_back(line_.pole_id(plan_.work.jobs[j].pole));
    }
    const ShortLabels labels{ids, kMapIdLetters};
    // Those that cannot wait are labelled first, so that they find room.
    for (const bool now : {true, false}) {
        for (const std::uint32_t j : plan_.plan.jobs(p)) {
            const Job& job = plan_.work.jobs[j];
            if (job.now == now) {
                map.poles.push_back({poles.places[job.pole],
                                     labels.of(line_.pole_id(job.pole)),
                                     job.verdict,
                                     job.now,
                                     map.poles.size() < kMostLabels});
            }
        }
    }
    for (const std::uint32_t pole : plan_.plan.rides(p)) {
        map.poles.push_back({poles.places[pole], {}, Verdict::treat, false, false});
    }
    const std::string drawing = draw_project_map(map);
    if (drawing.empty()) {
        add_paragraph(out, "There is no map: none of its poles has a place.");
        return;
    }
    out += "<h2>Map</h2>\n<figure>\n" + drawing +
           "<figcaption>Thick: the way from job to job. Thin: the line around it. Not for "
           "navigation.</figcaption>\n</figure>\n";
}

std::vector<StripPart> ProjectSheets::strips_of(const Project& p) const {
    const AssessedPoles& poles = line_.data().poles;
    std::vector<StripPart> strips;
    std::vector<std::string_view> ids;
    for (const RunPart& part : parts_of(p)) {
        StripPart strip{fmt::format("{}", strips.size() + 1), {}};
        // Of a single pole the neighbours are shown, so that it is found.
        const double around = part.from_m == part.to_m ? kAroundM : 0.0;
        for (const Runs::Stop& stop : line_.runs().stops(part.run)) {
            if (stop.station_m < part.from_m - around || stop.station_m > part.to_m + around) {
                continue;
            }
            StripPole pole;
            pole.id = line_.pole_id(stop.pole);
            pole.station_m = stop.station_m;
            pole.verdict = poles.verdicts[stop.pole];
            pole.now = poles.urgencies[stop.pole] == Urgency::now;
            pole.role = poles.roles[stop.pole];
            pole.mark = mark_.of(stop.pole);
            const std::string degrees{deflection_.of(stop.pole)};
            if (!degrees.empty()) {
                pole.deflection_deg = std::strtod(degrees.c_str(), nullptr);
            }
            ids.push_back(pole.id);
            strip.poles.push_back(std::move(pole));
        }
        strips.push_back(std::move(strip));
    }
    const ShortLabels labels{ids, kStripIdLetters};
    for (StripPart& strip : strips) {
        for (StripPole& pole : strip.poles) {
            pole.label = labels.of(pole.id);
        }
    }
    return strips;
}

void ProjectSheets::add_strips(const Project& p, std::string& out) const {
    out += "<h2>Along the line</h2>\n";
    const std::vector<StripPart> strips = strips_of(p);
    for (const std::string& row : strip_rows(strips)) {
        out += "<figure>\n" + row + "</figure>\n";
    }
    add_paragraph(out,
                  "On the left the part. Bold: metres from the start of the run. Below: length of "
                  "the span, line angle. A bar across is a dead end, two branches down a junction; "
                  "a double stroke breaks a span that is longer than drawn.",
                  "made");
    add_cut_short(strips, out);
}

void ProjectSheets::add_cut_short(const std::vector<StripPart>& strips, std::string& out) const {
    const std::optional<std::string_view> stands_for = common_cut(strips);
    if (stands_for) {
        add_paragraph(out, fmt::format("On the strips \u2026 stands for {}.", *stands_for), "made");
    }
    std::vector<std::vector<std::string>> rows;
    bool marks = false;
    for (const StripPart& strip : strips) {
        for (const StripPole& pole : strip.poles) {
            const bool mark_cut = svg_shortened(pole.mark, kStripMarkLetters) != pole.mark;
            if ((pole.label != pole.id && !stands_for) || mark_cut) {
                marks = marks || mark_cut;
                rows.push_back({fmt::format("{}:\u00a0{:.0f}", strip.name, pole.station_m),
                                pole.label,
                                std::string{pole.id},
                                std::string{pole.mark}});
            }
        }
    }
    if (rows.empty()) {
        return;
    }
    std::vector<std::string> heads{"Place", "On the strip", "Pole"};
    if (marks) {
        heads.emplace_back("Mark");
    }
    HtmlTable table{out, "Cut short on the strips. Place: part, station in metres", heads};
    for (std::vector<std::string>& row : rows) {
        row.resize(heads.size());
        table.row(row);
    }
    table.finish();
}

std::string ProjectSheets::place_text(const std::vector<RunPart>& parts, std::uint32_t pole) const {
    for (std::size_t i = 0; i < parts.size(); ++i) {
        for (const Runs::Place& place : line_.runs().places(pole)) {
            if (place.run == parts[i].run && place.station_m >= parts[i].from_m &&
                place.station_m <= parts[i].to_m) {
                return fmt::format("{}:\u00a0{}", i + 1, plain_text(place.station_m, 1));
            }
        }
    }
    return {};
}

std::string ProjectSheets::strength_text(std::uint32_t pole) const {
    const AssessedPoles& poles = line_.data().poles;
    return poles.has_strength(pole) ? plain_text(poles.remaining_pct[pole], 1) : "?";
}

std::string ProjectSheets::reasons_text(std::uint32_t pole) const {
    std::string text;
    for (const char c : reasons_.of(pole)) {
        text += c == '_' ? ' ' : c;
        text += c == ';' ? " " : "";
    }
    return text;
}

void ProjectSheets::add_parts(const Project& p, std::string& out) const {
    HtmlTable table{out, "Parts of runs", {"Part", "Run", "From (m)", "To (m)"}};
    std::size_t number = 0;
    for (const RunPart& part : parts_of(p)) {
        table.row({std::to_string(++number),
                   line_.run_id(part.run),
                   plain_text(part.from_m, 1),
                   plain_text(part.to_m, 1)});
    }
    table.finish();
}

void ProjectSheets::add_jobs(const Project& p, std::string& out) const {
    const bool access = access_.column() != nullptr;
    std::vector<std::string> heads{"Pole", "Place", "Work", "Class", "%", "Reasons"};
    if (access) {
        heads.emplace_back("Access");
    }
    heads.insert(heads.end(), {"Days", "Cost"});
    const std::vector<RunPart> parts = parts_of(p);
    HtmlTable table{
        out,
        "Jobs in the order of the line. Place: part, station in metres; %: strength that "
        "is left, ? = not known; days: of a crew",
        heads};
    for (const std::uint32_t j : plan_.plan.jobs(p)) {
        const Job& job = plan_.work.jobs[j];
        std::vector<std::string> row{std::string{line_.pole_id(job.pole)},
                                     place_text(parts, job.pole),
                                     std::string{name_of(job.verdict)} + (job.now ? ", now" : ""),
                                     std::string{line_.data().poles.classes.text(job.pole)},
                                     strength_text(job.pole),
                                     reasons_text(job.pole)};
        if (access) {
            row.emplace_back(access_.of(job.pole));
        }
        row.push_back(job.cost ? plain_text(job.crew_days, 3) : std::string{});
        row.push_back(job.cost ? money_text(*job.cost) : std::string{"no price"});
        table.row(row);
    }
    table.finish();
}

void ProjectSheets::add_rides(const Project& p, std::string& out) const {
    if (p.rides == 0) {
        return;
    }
    const std::vector<RunPart> parts = parts_of(p);
    HtmlTable table{
        out, "To be treated on the way: not in the cost", {"Pole", "Place", "%", "Reasons"}};
    for (const std::uint32_t pole : plan_.plan.rides(p)) {
        table.row({std::string{line_.pole_id(pole)},
                   place_text(parts, pole),
                   strength_text(pole),
                   reasons_text(pole)});
    }
    table.finish();
}

std::string ProjectSheets::index() const {
    std::string out = page_head("Projects", job_.paper, false);
    out += "<h1>Projects</h1>\n";
    add_paragraph(out, made_by_, "made");
    for (const std::string_view caution : kCautions) {
        add_paragraph(out, caution, "made");
    }
    add_totals(out);
    add_years(out);
    std::vector<std::uint32_t> order(plan_.rank.size());
    for (std::uint32_t i = 0; i < order.size(); ++i) {
        order[plan_.rank[i] - 1] = i;
    }
    out +=
        "<table>\n<caption>Projects by rank: first those with jobs that cannot wait, then by risk "
        "removed for the money</caption>\n<thead><tr>";
    for (const char* head :
         {"Rank", "Project", "Jobs", "Cannot wait", "km", "Crew-days", "Cost", "Risk", "Budget"}) {
        out += fmt::format("<th scope=\"col\" class=\"words\">{}</th>", head);
    }
    out += "</tr></thead>\n<tbody>\n";
    for (const std::uint32_t i : order) {
        const Project& p = project(i);
        const std::string fate =
            plan_.fate[i] == ProjectFate::open
                ? std::string{}
                : std::string{name_of(plan_.fate[i])} +
                      (plan_.year[i] > 0 ? fmt::format(", year {}", plan_.year[i]) : std::string{});
        out += fmt::format(
            "<tr><td class=\"line\">{}</td><th scope=\"row\"{}><a "
            "href=\"{}.html\"><bdi>{}</bdi></a>"
            "</th><td class=\"line\">{}</td><td class=\"line\">{}</td><td "
            "class=\"line\">{}</td><td class=\"line\">{}</td><td class=\"line\">{}{}</td><td "
            "class=\"line\">{}</td><td class=\"line\">{}</td>"
            "</tr>\n",
            plan_.rank[i],
            cell_look(project_id(line_, p)),
            files_[i],
            svg_escape(project_id(line_, p)),
            grouped(p.load.poles),
            grouped(p.now),
            plain_text(p.km(), 3),
            plain_text(p.crew_days(), 3),
            p.unpriced > 0 ? "at least " : "",
            money_text(p.total()),
            plain_text(p.risk, 2),
            fate);
    }
    out += "</tbody>\n</table>\n";
    add_left_out(out);
    return out + page_foot();
}

void ProjectSheets::add_totals(std::string& out) const {
    HtmlTable table{out, "All projects"};
    const auto jobs = static_cast<std::int64_t>(plan_.work.jobs.size());
    table.row({"Projects", grouped(static_cast<std::int64_t>(plan_.rank.size()))});
    table.row({"Jobs", grouped(jobs)});
    table.row({"Treated on the way", count_words(plan_.rides(), "pole", "poles")});
    table.row(
        {"Work poles in no project", grouped(static_cast<std::int64_t>(plan_.left_out.size()))});
    table.row({"Mobilisation", amount(plan_.mobilisation())});
    table.row({"Way", amount(plan_.travel())});
    table.row({"Jobs cost", amount(plan_.job_cost())});
    table.row({"Total", amount(plan_.total())});
    const std::string_view among = grouping_among(job_.costs.costs.limits);
    table.row({"Grouping",
               plan_.plan.grouping_cost == plan_.plan.grouping_bound
                   ? fmt::format("mobilisation and way are the least of {}", among)
                   : fmt::format("mobilisation and way cost {}; of {} none costs less than {} "
                                 "({} % more at most)",
                                 amount(plan_.plan.grouping_cost),
                                 among,
                                 amount(plan_.plan.grouping_bound),
                                 plain_text(plan_.grouping_gap() * 100.0, 2))});
    table.finish();
}

void ProjectSheets::add_years(std::string& out) const {
    if (plan_.budget.years.empty()) {
        return;
    }
    HtmlTable table{out,
                    "Budget, " + job_.costs.costs.currency,
                    {"Year",
                     "Budget",
                     "Spent",
                     "Taken first",
                     "Chosen",
                     "Risk removed",
                     "At most possible",
                     "Cannot wait, not paid",
                     "Another 10 % would buy"}};
    std::uint32_t number = 0;
    for (const BudgetYear& y : plan_.budget.years) {
        table.row({std::to_string(++number),
                   money_text(y.budget),
                   money_text(y.spent),
                   std::to_string(y.now.size()),
                   std::to_string(y.chosen.size()),
                   plain_text(y.risk, 2),
                   y.exact ? plain_text(y.risk_bound, 2) + " (exact)"
                           : fmt::format("{} ({} % short at most)",
                                         plain_text(y.risk_bound, 2),
                                         plain_text(y.gap() * 100.0, 3)),
                   y.now_left.empty() ? std::string{"none"}
                                      : fmt::format("{} for {}{}",
                                                    y.now_left.size(),
                                                    y.now_unpriced > 0 ? "at least " : "",
                                                    money_text(y.now_left_cost)),
                   fmt::format("{} more for {}: {} points",
                               y.next.size(),
                               money_text(y.next_cost),
                               plain_text(y.next_risk, 2))});
    }
    table.finish();
}

void ProjectSheets::add_left_out(std::string& out) const {
    constexpr std::size_t kMostShown = 500;
    if (plan_.left_out.empty()) {
        return;
    }
    HtmlTable table{out, "Work poles in no project", {"Pole", "Work", "Why"}};
    for (std::size_t i = 0; i < std::min(plan_.left_out.size(), kMostShown); ++i) {
        const LeftOutPole& left = plan_.left_out[i];
        table.row({std::string{line_.pole_id(left.pole)},
                   std::string{name_of(line_.data().poles.verdicts[left.pole])},
                   std::string{why_words(left.why)}});
    }
    table.finish();
    if (plan_.left_out.size() > kMostShown) {
        add_paragraph(
            out,
            fmt::format("{} more are in project_poles.csv.",
                        grouped(static_cast<std::int64_t>(plan_.left_out.size() - kMostShown))));
    }
}

}  // namespace linewood
