#pragma once

#include <memory>
#include <vector>

namespace CLI {
class App;
}

namespace linewood {

/// One command of the program. `setup` adds its arguments and touches nothing; `run` works.
class Command {
public:
    virtual ~Command() = default;
    Command() = default;
    Command(const Command&) = delete;
    Command& operator=(const Command&) = delete;

    /// Adds the command to the program. Arguments are stored in this object, which must outlive it.
    virtual CLI::App* setup(CLI::App& program) = 0;
    /// @return the exit code. @throws DataError, JobError, Interrupted and what the system throws.
    virtual int run() = 0;
};

/// All commands of the program, in the order of its help.
std::vector<std::unique_ptr<Command>> all_commands();

inline constexpr int kExitDone = 0;
inline constexpr int kExitFailed = 1;
inline constexpr int kExitUsage = 2;

}  // namespace linewood
