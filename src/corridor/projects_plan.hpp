#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geo/corridor/budget.hpp"
#include "geo/corridor/projects.hpp"
#include "src/corridor/line_model.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/work_list.hpp"

namespace linewood {

/// What became of a project when money was given out.
enum class ProjectFate : std::uint8_t {
    open,         ///< no budget was given
    taken_first,  ///< has a job that cannot wait: before all others
    chosen,
    no_money,  ///< in no year
    no_price   ///< a job of it has no price, so its cost is not known
};
std::string_view name_of(ProjectFate fate);

/// Why a work pole is in no project.
enum class LeftOut : std::uint8_t {
    repeated_id,        ///< an earlier pole has its id
    no_id,              ///< it has none
    no_project_passes,  ///< to be treated, and on no project's way
};
std::string_view name_of(LeftOut why);

struct LeftOutPole {
    std::uint32_t pole = 0;
    LeftOut why = LeftOut::no_project_passes;
};

/// Projects with their order and fate, and everything they were made from.
struct ProjectsPlan {
    WorkList work;
    ProjectPlan plan;
    BudgetPlan budget;
    std::vector<std::uint32_t> rank;    ///< of each project, from 1: see rank_projects()
    std::vector<ProjectFate> fate;      ///< of each project
    std::vector<std::uint32_t> year;    ///< of each project, from 1; 0 = none
    std::vector<LeftOutPole> left_out;  ///< by pole

    std::int64_t rides() const;
    Money mobilisation() const;
    Money travel() const;
    Money job_cost() const;
    Money total() const { return mobilisation() + travel() + job_cost(); }
    /// By how much the grouping may cost more than the best there is, as a share of its bound.
    double grouping_gap() const;
};

/// @param findings gets what is doubtful in the columns the costs name. @throws JobError
ProjectsPlan make_projects(const LineModel& line,
                           const ProjectsJob& job,
                           double limit_pct,
                           Findings& findings);

/// Of which groupings the bound and `exact` speak. With limits not of those in which a crew passes a pole on
/// another's way: they may cost less.
std::string_view grouping_among(const ProjectLimits& limits);

/// A project's name: the least id of its jobs.
std::string_view project_id(const LineModel& line, const Project& project);

}  // namespace linewood
