#include "src/corridor/projects_run.hpp"

#include <optional>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "src/corridor/corridor_output.hpp"
#include "src/corridor/project_rows.hpp"
#include "src/corridor/project_sheet.hpp"
#include "src/corridor/projects_plan.hpp"
#include "src/corridor/projects_summary.hpp"
#include "src/corridor/sheet_folder.hpp"
#include "src/corridor/station_table.hpp"
#include "src/job/file_names.hpp"
#include "src/job/job_error.hpp"
#include "src/report/figures.hpp"

namespace linewood {
namespace {

constexpr GeometryType kPoint{GeometryKind::point, false, false, false};
constexpr GeometryType kLines{GeometryKind::line, true, false, false};
/// Of criteria whose limit cannot be read: general-practice.
constexpr double kUsualLimitPct = 65.0;

class ProjectsRun {
public:
    ProjectsRun(const ProjectsJob& job, RunMonitor& monitor)
        : job_{job}, monitor_{monitor}, data_{read(job, findings_, monitor)} {
        output_.emplace(job, data_, "projects", std::vector<std::filesystem::path>{});
    }

    CorridorSummary run() {
        monitor_.stage("cut the line into runs", -1);
        line_.emplace(data_);
        monitor_.advance(0);
        monitor_.stage("group jobs into projects", -1);
        plan_ = make_projects(
            *line_, job_, data_.run.strength_limit_pct.value_or(kUsualLimitPct), findings_);
        monitor_.advance(0);
        rows_.emplace(*line_, job_, plan_);
        write_layers();
        if (output_->sheets() != nullptr) {
            write_sheets(*output_->sheets());
        }
        CorridorSummary summary = summarize();
        output_->finish([this] { return document(); }, monitor_, summary);
        return summary;
    }

private:
    static AssessedData read(const ProjectsJob& job, Findings& findings, RunMonitor& monitor) {
        AssessedReading wanted;
        wanted.attributes = work_attributes(Source::open(job.input), job);
        wanted.plane_metres_per_unit = job.plane_metres_per_unit;
        return read_assessed(job.input, wanted, findings, monitor);
    }

    void write_layers() {
        monitor_.stage("write layers", -1);
        LayerWriter& projects = output_->dataset().add_layer(
            own_layer("projects",
                      rows_->project_fields(),
                      kLines,
                      data_,
                      "Projects: the way from job to job; a single pole has none"));
        const auto count = static_cast<std::uint32_t>(plan_.plan.projects().size());
        for (std::uint32_t i = 0; i < count; ++i) {
            projects.append_line(rows_->project_cells(i), rows_->project_path(i));
        }
        projects.complete();
        monitor_.advance(0);
        LayerWriter& poles = output_->dataset().add_layer(own_layer(
            "project_poles", rows_->pole_fields(), kPoint, data_, "Every work pole, once"));
        work_poles_ = rows_->work_poles();
        for (const WorkPole& row : work_poles_) {
            poles.append(rows_->pole_cells(row), data_.layer_point(row.pole));
        }
        check_work_poles();
        poles.complete();
        monitor_.advance(0);
        const std::int64_t stations = write_stations(output_->dataset(), *line_, nullptr);
        std::vector<LayerCount> written{{"projects", projects.count()},
                                        {"project_poles", poles.count()},
                                        {"stations", stations}};
        write_budget(written);
        output_->write_end(settings(), std::move(written), findings_, monitor_);
    }

    /// Every work pole must be in the layer once.
    void check_work_poles() const {
        const std::size_t wanted =
            plan_.work.jobs.size() + plan_.work.treat.size() + plan_.work.repeated.size();
        if (work_poles_.size() != wanted) {
            throw std::logic_error{fmt::format(
                "{} work poles are in project_poles, {} are wanted; nothing was written",
                work_poles_.size(),
                wanted)};
        }
    }

    void write_budget(std::vector<LayerCount>& written) {
        if (plan_.budget.years.empty()) {
            return;
        }
        LayerWriter& out = output_->dataset().add_layer(
            own_layer("budget",
                      ProjectRows::budget_fields(job_.costs.costs.currency),
                      {},
                      data_,
                      "What each year's money buys"));
        for (std::uint32_t y = 0; y < plan_.budget.years.size(); ++y) {
            out.append(rows_->budget_cells(y), std::nullopt);
        }
        written.push_back({"budget", out.count()});
    }

    CorridorOutput::Settings settings() const {
        CorridorOutput::Settings s{{"job_costs", job_.costs_name},
                                   {"job_costs_content", costs_file_json(job_.costs)}};
        for (const Money budget : job_.budgets) {
            s.emplace_back("job_budget", money_text_plain(budget));
        }
        s.emplace_back("total_cost", money_text_plain(plan_.total()));
        s.emplace_back("grouping_cost", money_text_plain(plan_.plan.grouping_cost));
        s.emplace_back("grouping_bound", money_text_plain(plan_.plan.grouping_bound));
        s.emplace_back("grouping_among", grouping_among(job_.costs.costs.limits));
        return s;
    }
    static std::string money_text_plain(Money m) { return fmt::format("{}", m.units()); }

    void write_sheets(SheetFolder& sheets) {
        const auto count = static_cast<std::uint32_t>(plan_.plan.projects().size());
        monitor_.stage("write sheets", count);
        FileNames names;
        std::vector<std::string> files;
        for (const Project& p : plan_.plan.projects()) {
            files.push_back(names.name_for(project_id(*line_, p)));
        }
        const ProjectSheets pages{*line_, job_, plan_, files, made_by_text(data_)};
        for (std::uint32_t i = 0; i < count; ++i) {
            sheets.write(files[i] + ".html", pages.page(i));
            monitor_.advance(1);
        }
        sheets.write("index.html", pages.index());
        sheets.write_csv("projects.csv", rows_->project_fields(), [&](CsvWriter& csv) {
            for (std::uint32_t i = 0; i < count; ++i) {
                csv.write_row(rows_->project_cells(i));
            }
        });
        sheets.write_csv("project_poles.csv", rows_->pole_fields(), [&](CsvWriter& csv) {
            for (const WorkPole& row : work_poles_) {
                csv.write_row(rows_->pole_cells(row));
            }
        });
    }

    nlohmann::ordered_json document() const {
        using Json = nlohmann::ordered_json;
        Json doc{{"read_from", made_by_text(data_)},
                 {"costs", Json::parse(costs_file_json(job_.costs))},
                 {"totals", projects_totals_json(job_, plan_)}};
        doc["budget"] = Json::array();
        for (std::uint32_t y = 0; y < plan_.budget.years.size(); ++y) {
            doc["budget"].push_back(row_json(ProjectRows::budget_fields(job_.costs.costs.currency),
                                             rows_->budget_cells(y)));
        }
        doc["projects"] = Json::array();
        const auto count = static_cast<std::uint32_t>(plan_.plan.projects().size());
        const auto fields = rows_->project_fields();
        for (std::uint32_t i = 0; i < count; ++i) {
            doc["projects"].push_back(row_json(fields, rows_->project_cells(i)));
            doc["projects"].back()["poles"] = Json::array();
        }
        doc["left_out"] = Json::array();
        const auto pole_fields = rows_->pole_fields();
        for (const WorkPole& row : work_poles_) {
            Json& to =
                row.project == kNone ? doc["left_out"] : doc["projects"][row.project]["poles"];
            to.push_back(row_json(pole_fields, rows_->pole_cells(row)));
        }
        return doc;
    }

    CorridorSummary summarize() const {
        CorridorSummary summary;
        summary.text = projects_summary_text(*line_, job_, plan_);
        summary.text += output_->written_text(job_);
        const nlohmann::ordered_json totals = projects_totals_json(job_, plan_);
        const std::string object =
            totals.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
        summary.json = object.substr(1, object.size() - 2);
        summary.warnings = projects_warnings(job_, plan_);
        return summary;
    }

    const ProjectsJob& job_;
    RunMonitor& monitor_;
    Findings findings_;
    AssessedData data_;
    std::optional<CorridorOutput> output_;
    std::optional<LineModel> line_;
    ProjectsPlan plan_;
    std::optional<ProjectRows> rows_;
    std::vector<WorkPole> work_poles_;
};

}  // namespace

CorridorSummary run_projects(const ProjectsJob& job, RunMonitor& monitor) {
    return ProjectsRun{job, monitor}.run();
}

}  // namespace linewood
