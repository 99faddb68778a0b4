#pragma once

#include <limits>
#include <string>

#include "src/command/command.hpp"
#include "src/command/network_options.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/assess_job.hpp"

namespace linewood {

/// `linewood assess IN --out OUT`: the main job.
class AssessCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    AssessJob checked_job() const;

    NetworkOptions network_;
    std::string inspections_;
    std::string defects_;
    std::string units_ = "us";
    std::string criteria_;
    std::string wood_tables_;
    double declination_ = std::numeric_limits<double>::quiet_NaN();  ///< NaN: not given
    TalkOptions talk_;
};

}  // namespace linewood
