#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geo/io/cell.hpp"
#include "geo/io/feature_batch.hpp"
#include "src/corridor/line_model.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/projects_plan.hpp"

namespace linewood {

/// A row of `project_poles`: a work pole, once.
struct WorkPole {
    std::uint32_t pole = 0;
    std::uint32_t project = kNone;  ///< kNone = in none
    std::uint32_t job = kNone;      ///< in the work list; kNone = only to be treated
    const LeftOutPole* left_out = nullptr;
};

/// The columns of a plan and its rows, the same in layers, CSV and JSON.
class ProjectRows {
public:
    /// All must outlive it.
    ProjectRows(const LineModel& line, const ProjectsJob& job, const ProjectsPlan& plan);

    std::vector<Field> project_fields() const;
    std::vector<Cell> project_cells(std::uint32_t project) const;
    /// The way from job to job in the coordinates of the poles layer; no parts for a single pole.
    LineParts project_path(std::uint32_t project) const;

    std::vector<Field> pole_fields() const;
    std::vector<Cell> pole_cells(const WorkPole& row) const;
    /// All work poles: by project, jobs then those treated on the way; then those in none.
    std::vector<WorkPole> work_poles() const;

    static std::vector<Field> budget_fields(const std::string& currency);
    std::vector<Cell> budget_cells(std::uint32_t year) const;

private:
    const LineModel& line_;
    const ProjectsJob& job_;
    const ProjectsPlan& plan_;
    RunParts parts_;
    PoleTexts access_;
};

}  // namespace linewood
