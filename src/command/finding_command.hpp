#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood finding [CODE]`: what findings mean, why they matter, how to mend them.
class FindingCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string code_;
    std::string format_ = "text";
    TalkOptions talk_;
};

}  // namespace linewood
