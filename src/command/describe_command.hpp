#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood describe IN`: what would be read.
class DescribeCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string input_;
    std::string job_;
    std::string today_;
    std::string format_ = "text";
    TalkOptions talk_;
};

}  // namespace linewood
