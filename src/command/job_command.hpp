#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood job check|schema|fields`: the file that maps other people's layers.
class JobCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string check() const;

    std::string action_;
    std::string target_;
    std::string input_;
    TalkOptions talk_;
};

}  // namespace linewood
