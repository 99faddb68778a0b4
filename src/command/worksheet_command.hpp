#pragma once

#include <string>
#include <vector>

#include "src/command/assess_options.hpp"
#include "src/command/command.hpp"
#include "src/command/job_options.hpp"
#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/worksheet_job.hpp"

namespace linewood {

/// `linewood worksheet IN POLE...`: how each figure of a pole came about, on a page of its own.
class WorksheetCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    WorksheetJob checked_job();
    std::vector<SheetFormat> checked_formats() const;

    NetworkOptions network_;
    AssessOptions assess_;
    JobOptions job_;
    std::vector<std::string> pole_ids_;
    std::string where_;
    bool needing_work_ = false;
    std::vector<std::string> formats_;
    std::string paper_;
    TalkOptions talk_;
};

}  // namespace linewood
