#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood fields`: every field of every layer, with type, unit and meaning.
class FieldsCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::string format_ = "markdown";
    std::string units_ = "us";
    TalkOptions talk_;
};

}  // namespace linewood
