#pragma once

#include <string>
#include <vector>

#include "src/command/command.hpp"
#include "src/command/job_options.hpp"
#include "src/command/shared_options.hpp"
#include "src/site/site_job.hpp"

namespace linewood {

struct PublishSummary;

/// `linewood publish IN --out FOLDER`: condition layers as a map page, with downloads and worksheets.
class PublishCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    void add_contents(CLI::App& command);
    SiteJob checked_job();
    AssessJob reading();
    static void print(const SiteJob& job, const PublishSummary& summary, const Log& log);

    SiteJob job_;
    std::string out_;
    std::string sheets_;
    std::vector<std::string> pages_;
    std::vector<std::string> backgrounds_;
    std::vector<std::string> titles_;
    std::vector<std::string> attributions_;
    std::string worksheets_ = "work";
    std::string wood_tables_;
    JobOptions mapping_;
    TalkOptions talk_;
};

}  // namespace linewood
