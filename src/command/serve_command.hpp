#pragma once

#include <string>
#include <vector>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood serve FOLDER`: a published folder over HTTP, until it is stopped.
class ServeCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string folder_;
    std::string address_ = "127.0.0.1";
    int port_ = 8080;
    std::vector<std::string> names_;
    TalkOptions talk_;
};

}  // namespace linewood
