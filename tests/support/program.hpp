#pragma once

#include <functional>
#include <string>
#include <vector>

#include <sys/types.h>

namespace linewood::testing {

/// What a program did.
struct ProgramRun {
    int exit_code = -1;  ///< -1 where a signal ended it
    int signal = 0;
    std::string out;
    std::string err;
};

/// Runs a program to its end, its standard output and error caught apart, its standard input empty.
/// @param prepare is called in the child before the program starts; a number other than 0 that it gives
///        becomes the exit code and nothing is started. Async-signal-safe calls only.
ProgramRun run_program_file(const std::string& program,
                            const std::vector<std::string>& arguments,
                            const std::function<int()>& prepare = {});

/// A program that runs beside the test. Killed where the test forgets it.
class RunningProgram {
public:
    RunningProgram(const std::string& program,
                   const std::vector<std::string>& arguments,
                   const std::function<int()>& prepare = {});
    ~RunningProgram();
    RunningProgram(const RunningProgram&) = delete;
    RunningProgram& operator=(const RunningProgram&) = delete;

    void send(int signal) const;
    pid_t pid() const { return pid_; }
    /// What it has printed to its standard output so far.
    std::string printed() const;
    bool ended();
    /// Waits for the end.
    ProgramRun wait();

private:
    pid_t pid_ = -1;
    int out_ = -1;
    int err_ = -1;
    bool reaped_ = false;
    int status_ = 0;
};

}  // namespace linewood::testing
