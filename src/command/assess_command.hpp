#pragma once

#include "src/command/assess_options.hpp"
#include "src/command/command.hpp"
#include "src/command/finding_options.hpp"
#include "src/command/job_options.hpp"
#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood assess IN --out OUT`: the main job.
class AssessCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    NetworkOptions network_;
    AssessOptions assess_;
    FindingOptions findings_;
    JobOptions job_;
    TalkOptions talk_;
};

}  // namespace linewood
