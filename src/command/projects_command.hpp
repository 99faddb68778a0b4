#pragma once

#include <string>
#include <vector>

#include "src/command/command.hpp"
#include "src/command/corridor_options.hpp"

namespace linewood {

/// `linewood projects IN --out OUT --costs COSTS.json`: work packages along the network.
class ProjectsCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    std::vector<Money> checked_budgets() const;

    CorridorOptions options_;
    std::string costs_;
    std::vector<std::string> budgets_;
    std::string mark_;
    bool schema_ = false;
};

}  // namespace linewood
