#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geo/corridor/projects.hpp"
#include "src/corridor/line_model.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/projects_plan.hpp"
#include "src/corridor/strip_diagram.hpp"

namespace linewood {

/// The pages of a plan: one a project, for the planner and the crew, and the list of all. They need no
/// network, run no script, and print on A4 and Letter in black and white.
class ProjectSheets {
public:
    /// All must outlive it. @param files the page's name of each project. @param made_by stands on each.
    ProjectSheets(const LineModel& line,
                  const ProjectsJob& job,
                  const ProjectsPlan& plan,
                  const std::vector<std::string>& files,
                  std::string made_by);

    std::string page(std::uint32_t project) const;
    std::string index() const;

private:
    const Project& project(std::uint32_t i) const { return plan_.plan.projects()[i]; }
    std::string amount(Money money) const;
    std::string fate_text(std::uint32_t project) const;
    /// The parts of runs of a project; on its page they are numbered from 1.
    std::vector<RunPart> parts_of(const Project& p) const { return parts_.of(plan_.plan, p); }
    std::string place_text(const std::vector<RunPart>& parts, std::uint32_t pole) const;
    std::string strength_text(std::uint32_t pole) const;
    std::string reasons_text(std::uint32_t pole) const;
    void add_summary(std::uint32_t project, std::string& out) const;
    void add_costs(const Project& p, std::string& out) const;
    /// How the cost of the way comes about, as it was worked out.
    std::string way_text(const Project& p) const;
    void add_map(const Project& p, std::string& out) const;
    std::vector<StripPart> strips_of(const Project& p) const;
    void add_strips(const Project& p, std::string& out) const;
    /// What the strips have no room for, in full.
    void add_cut_short(const std::vector<StripPart>& strips, std::string& out) const;
    void add_parts(const Project& p, std::string& out) const;
    void add_jobs(const Project& p, std::string& out) const;
    void add_rides(const Project& p, std::string& out) const;
    void add_totals(std::string& out) const;
    void add_years(std::string& out) const;
    void add_left_out(std::string& out) const;

    const LineModel& line_;
    const ProjectsJob& job_;
    const ProjectsPlan& plan_;
    const std::vector<std::string>& files_;
    std::string made_by_;
    RunParts parts_;
    PoleTexts deflection_;
    PoleTexts mark_;
    PoleTexts access_;
    PoleTexts reasons_;
};

}  // namespace linewood
