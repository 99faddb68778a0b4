#pragma once

#include <string>

#include "src/command/command.hpp"
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
    OutputFormat checked_format() const;

    std::string input_;
    std::string poles_;
    std::string spans_;
    std::string inspections_;
    std::string defects_;
    std::string out_;
    std::string format_;
    std::string units_ = "us";
    std::string criteria_;
    std::string wood_tables_;
    std::string plane_unit_ = "m";
    double snap_m_ = -1.0;
    double nearest_line_m_ = -1.0;
    std::size_t threads_ = 0;
    bool overwrite_ = false;
    TalkOptions talk_;
};

}  // namespace linewood
