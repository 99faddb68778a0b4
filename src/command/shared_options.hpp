#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "src/job/job_error.hpp"
#include "src/job/profile.hpp"
#include "src/report/log.hpp"

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace linewood {

/// How a command speaks: options that every command has.
struct TalkOptions {
    bool quiet = false;
    std::string log = "text";

    void add_to(CLI::App& command);
    Log make_log() const { return {log == "json" ? LogForm::json : LogForm::text, quiet}; }
};

/// Lets an option take numbers from `least` to `most` only; NaN is none of them.
void allow_range(CLI::Option& option, double least, double most);

/// Reads a small text file whole. @throws JobError naming it where it cannot be read or is too large.
std::string read_text_file(const std::string& path);

/// What `read` makes of the text of a file. @throws JobError that opens with the file's name, also
/// where `read` throws one.
template <typename Read>
auto read_from_file(const std::string& path, const Read& read) {
    const std::string text = read_text_file(path);
    try {
        return read(text);
    } catch (const JobError& e) {
        throw JobError{path + ": " + e.what()};
    }
}

/// Adds `--criteria PROFILE`, to be read by read_criteria().
void add_criteria_option(CLI::App& command, std::string& to, const std::string& what);

/// The shipped profile of that name, else the profile of that file; the default one where it is empty.
/// @throws JobError
Profile read_criteria(const std::string& name_or_file);

/// The files behind `--criteria` and `--wood-tables`; none where they are not given or name a shipped
/// profile.
std::vector<std::filesystem::path> files_read(const std::string& criteria,
                                              const std::string& wood_tables);

/// Refuses every value of an option or a place that was given and is empty. @throws JobError
void refuse_empty_values(const CLI::App& command);

/// Writes a small file whole: beside, under another name, then renamed. @throws std::runtime_error where
/// it exists and may not be overwritten, naming `--overwrite`, or where it cannot be written.
void write_text_file(const std::string& path, const std::string& text, bool overwrite);

}  // namespace linewood
