#pragma once

#include <string>

#include "src/command/command.hpp"
#include "src/command/corridor_options.hpp"

namespace linewood {

/// `linewood corridors IN --out OUT`: condition by runs of the line, or by a user's lines or polygons.
class CorridorsCommand : public Command {
public:
    CLI::App* setup(CLI::App& program) override;
    int run() override;

private:
    CorridorOptions options_;
    std::string by_;
    std::string lines_;
    std::string polygons_;
    std::string id_;
    double width_m_ = -1.0;  ///< negative: not given
    bool stretches_ = false;
};

}  // namespace linewood
