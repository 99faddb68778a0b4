#pragma once

#include <string>

#include "src/report/log.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// How a command speaks: options that every command has.
struct TalkOptions {
    bool quiet = false;
    std::string log = "text";

    void add_to(CLI::App& command);
    Log make_log() const { return {log == "json" ? LogForm::json : LogForm::text, quiet}; }
};

/// Reads a small text file whole. @throws JobError naming it where it cannot be read or is too large.
std::string read_text_file(const std::string& path);

}  // namespace linewood
