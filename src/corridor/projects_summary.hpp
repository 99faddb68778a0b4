#pragma once

#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "src/corridor/line_model.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/projects_plan.hpp"

namespace linewood {

/// What a plan came to, for the terminal: every work pole accounted for, the cost by its parts, the budget.
std::string projects_summary_text(const LineModel& line,
                                  const ProjectsJob& job,
                                  const ProjectsPlan& plan);
/// The same figures for programs.
nlohmann::ordered_json projects_totals_json(const ProjectsJob& job, const ProjectsPlan& plan);
/// What the user should look at: jobs without a price, price rows that fit nothing, money that is not
/// enough for what cannot wait.
std::vector<std::string> projects_warnings(const ProjectsJob& job, const ProjectsPlan& plan);

}  // namespace linewood
