#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

namespace linewood {

/// `linewood criteria list|show|check|schema`: what poles are judged by.
class CriteriaCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    void must_have_target(bool wanted) const;
    std::string list() const;
    std::string show() const;
    std::string check() const;

    std::string action_;
    std::string target_;
    std::string format_ = "text";
    TalkOptions talk_;
};

}  // namespace linewood
