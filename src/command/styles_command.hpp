#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood styles`: how the layers are drawn, for desktop clients, map servers and pages.
class StylesCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string name_;
    std::string format_ = "list";
    TalkOptions talk_;
};

}  // namespace linewood
