#pragma once

#include "src/command/command.hpp"
#include "src/command/finding_options.hpp"
#include "src/command/job_options.hpp"
#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood network IN --out OUT`: the resolved graph alone, to mend the source layers by.
class NetworkCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    NetworkOptions options_;
    JobOptions job_;
    std::string criteria_;
    bool report_ = false;
    FindingOptions findings_;
    TalkOptions talk_;
};

}  // namespace linewood
