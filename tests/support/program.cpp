#include "tests/support/program.hpp"

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <stdexcept>

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace linewood::testing {
namespace {

constexpr int kNotStarted = 127;

/// An unnamed file to catch an output: no pipe that could fill up.
int catch_file() {
    std::string name = "/tmp/linewood-output-XXXXXX";
    const int file = ::mkostemp(name.data(), O_CLOEXEC);
    if (file < 0) {
        throw std::runtime_error{"no temporary file"};
    }
    ::unlink(name.c_str());
    return file;
}

std::string content_of_file(int file) {
    std::string text;
    std::array<char, 4096> block;
    ::lseek(file, 0, SEEK_SET);
    for (;;) {
        const ssize_t got = ::read(file, block.data(), block.size());
        if (got <= 0) {
            return text;
        }
        text.append(block.data(), static_cast<std::size_t>(got));
    }
}

}  // namespace

RunningProgram::RunningProgram(const std::string& program,
                               const std::vector<std::string>& arguments,
                               const std::function<int()>& prepare)
    : out_{catch_file()}, err_{catch_file()} {
    std::vector<char*> argv{const_cast<char*>(program.c_str())};
    for (const std::string& argument : arguments) {
        argv.push_back(const_cast<char*>(argument.c_str()));
    }
    argv.push_back(nullptr);
    pid_ = ::fork();
    if (pid_ < 0) {
        throw std::runtime_error{"no child process"};
    }
    if (pid_ == 0) {
        const int nothing = ::open("/dev/null", O_RDONLY);
        ::dup2(nothing, STDIN_FILENO);
        ::dup2(out_, STDOUT_FILENO);
        ::dup2(err_, STDERR_FILENO);
        const int refused = prepare ? prepare() : 0;
        if (refused == 0) {
            ::execv(program.c_str(), argv.data());
        }
        ::_exit(refused != 0 ? refused : kNotStarted);
    }
}

RunningProgram::~RunningProgram() {
    if (!reaped_) {
        ::kill(pid_, SIGKILL);
        ::waitpid(pid_, nullptr, 0);
    }
    ::close(out_);
    ::close(err_);
}

std::string RunningProgram::printed() const {
    // The program writes on at the file's own position, which stays where it is.
    std::string text(4096, '\0');
    const ssize_t got = ::pread(out_, text.data(), text.size(), 0);
    text.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
    return text;
}

void RunningProgram::send(int signal) const { ::kill(pid_, signal); }

bool RunningProgram::ended() {
    if (!reaped_ && ::waitpid(pid_, &status_, WNOHANG) == pid_) {
        reaped_ = true;
    }
    return reaped_;
}

ProgramRun RunningProgram::wait() {
    while (!reaped_) {
        if (::waitpid(pid_, &status_, 0) == pid_) {
            reaped_ = true;
        } else if (errno != EINTR) {
            throw std::runtime_error{"lost the child process"};
        }
    }
    ProgramRun run;
    run.exit_code = WIFEXITED(status_) ? WEXITSTATUS(status_) : -1;
    run.signal = WIFSIGNALED(status_) ? WTERMSIG(status_) : 0;
    run.out = content_of_file(out_);
    run.err = content_of_file(err_);
    return run;
}

ProgramRun run_program_file(const std::string& program,
                            const std::vector<std::string>& arguments,
                            const std::function<int()>& prepare) {
    return RunningProgram{program, arguments, prepare}.wait();
}

}  // namespace linewood::testing
