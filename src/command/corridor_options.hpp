#pragma once

#include <string>

#include "src/command/shared_options.hpp"
#include "src/corridor/projects_job.hpp"
#include "src/corridor/projects_run.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// The options of the commands that work on an assessed dataset in corridors.
struct CorridorOptions {
    std::string input;
    std::string out;
    std::string format;
    std::string sheets;
    std::string paper;
    std::string plane_unit;
    bool overwrite = false;
    TalkOptions talk;

    void add_to(CLI::App& command, const std::string& what_sheets_are);
    /// @throws JobError
    void fill(CorridorJob& job) const;
};

/// Says what a run came to. @return the exit code.
int tell(const Log& log, const CorridorSummary& summary);

}  // namespace linewood
