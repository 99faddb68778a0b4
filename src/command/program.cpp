#include "src/command/program.hpp"

#include <cstdio>
#include <exception>
#include <iostream>
#include <string>
#include <string_view>
#include <vector>

#include <fcntl.h>
#include <malloc.h>
#include <unistd.h>

#include "geo/io/source.hpp"
#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/pipeline/run_record.hpp"
#include "src/report/log.hpp"
#include "src/report/run_monitor.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr const char* kFooter =
    "Each command explains itself: linewood COMMAND --help\n"
    "Exit codes: 0 done, 1 failed, 2 called wrongly.";

/// Messages before, or apart from, a command's own way of speaking.
Log plain_log(int argc, const char* const* argv) {
    for (int i = 1; i < argc; ++i) {
        const std::string_view arg = argv[i];
        if (arg == "--log=json" ||
            (arg == "--log" && i + 1 < argc && std::string_view{argv[i + 1]} == "json")) {
            return {LogForm::json, false};
        }
    }
    return {LogForm::text, false};
}

/// A word that no command or option is called, with the nearest that one is.
std::string explain_unknown(const CLI::App& program, const CLI::App* command, std::string word) {
    std::vector<std::string> names;
    std::string kind = "command";
    if (word.front() == '-') {
        kind = "option";
        word = word.substr(0, word.find('='));
        for (const CLI::Option* option : (command == nullptr ? program : *command).get_options()) {
            names.push_back(option->get_name());
        }
    } else if (command != nullptr) {
        return "\"" + word + "\" is one word too many; put names that hold spaces into quotes";
    } else {
        for (const CLI::App* known : program.get_subcommands({})) {
            names.push_back(known->get_name());
        }
    }
    const std::vector<std::string_view> views(names.begin(), names.end());
    return "there is no " + kind + " \"" + word + "\"" + did_you_mean(word, views);
}

/// CLI11 counts its own exit codes from 100; help and version are no failures. It speaks of what is
/// missing before what is unknown, where a slip of the pen is often both.
int explain_parse_error(const CLI::App& program, const CLI::ParseError& e, const Log& log) {
    if (e.get_exit_code() == 0) {
        return program.exit(e);
    }
    const auto chosen = program.get_subcommands();
    const CLI::App* command = chosen.empty() ? nullptr : chosen.front();
    const std::vector<std::string> unknown = program.remaining(true);
    std::string what = e.what();
    if (!unknown.empty() && !unknown.front().empty()) {
        what = explain_unknown(program, command, unknown.front());
    } else if (command == nullptr) {
        what = "name a command:";
        for (const CLI::App* known : program.get_subcommands({})) {
            what += " " + known->get_name();
        }
    }
    const std::string help = command == nullptr ? "" : command->get_name() + " ";
    log.error("usage", what + " (see linewood " + help + "--help)");
    return kExitUsage;
}

/// A descriptor that came closed would go to the next file opened, and messages into that file. These
/// stand in its place; what is written to them fails.
void hold_standard_descriptors() {
    for (const int standard : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
        if (::fcntl(standard, F_GETFD) == -1) {
            ::open("/dev/null", standard == STDIN_FILENO ? O_WRONLY : O_RDONLY);
        }
    }
}

/// Whether all that was printed has arrived; at a full disk only the flush tells.
bool standard_output_arrived() {
    std::cout.flush();
    return std::fflush(stdout) == 0 && std::ferror(stdout) == 0 && std::cout.good();
}

int run_command(int argc, const char* const* argv, const Log& log) {
    CLI::App program{"Linewood turns wood utility pole inspections into condition layers."};
    program.name("linewood");
    program.footer(kFooter);
    program.set_version_flag(
        "--version", "linewood " + std::string{tool_version()} + " (GDAL " + gdal_version() + ")");
    program.require_subcommand(1);
    const auto commands = all_commands();
    Command* chosen = nullptr;
    for (const auto& command : commands) {
        command->setup(program)->callback([&chosen, c = command.get()] { chosen = c; });
    }
    try {
        program.parse(argc, argv);
        refuse_empty_values(*program.get_subcommands().front());
        return chosen->run();
    } catch (const CLI::ParseError& e) {
        return explain_parse_error(program, e, log);
    } catch (const JobError& e) {
        log.error("usage", e.what());
        return kExitUsage;
    } catch (const Interrupted& e) {
        log.error("interrupted", e.what());
        return kExitFailed;
    } catch (const std::bad_alloc&) {
        log.error("memory", "out of memory; nothing was written");
        return kExitFailed;
    } catch (const std::exception& e) {
        log.error("failed", e.what());
        return kExitFailed;
    }
}

}  // namespace

int run_program(int argc, const char* const* argv) {
#ifdef M_ARENA_MAX
    // Every batch is worked on by a thread of its own; an arena for each would hold memory for nothing.
    mallopt(M_ARENA_MAX, 2);
    // What a million poles need comes in blocks of megabytes, each given back to the system when it is freed.
    // Left alone, these would end up between smaller pieces that keep them from it.
    mallopt(M_MMAP_THRESHOLD, 2 << 20);
    mallopt(M_TRIM_THRESHOLD, 8 << 20);
#endif
    hold_standard_descriptors();
    const Log log = plain_log(argc, argv);
    const int code = run_command(argc, argv, log);
    if (standard_output_arrived()) {
        return code;
    }
    log.error("output",
              "not all that was to be printed could be written to standard output; check where it "
              "goes, and the space there");
    return code == kExitDone ? kExitFailed : code;
}

}  // namespace linewood
