#pragma once

#include <string>
#include <vector>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood draft IN...`: a first job file for unknown layers.
class DraftCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::vector<std::string> inputs_;
    std::string out_;
    bool overwrite_ = false;
    TalkOptions talk_;
};

}  // namespace linewood
