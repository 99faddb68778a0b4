#include "src/command/shared_options.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "assess/condition/condition_findings.hpp"
#include "src/job/job_error.hpp"
#include "src/job/nearest_word.hpp"
#include "src/job/shipped_profiles.hpp"

#include <CLI/CLI.hpp>

namespace linewood {
namespace {

constexpr std::string_view kDefaultCriteria = "general-practice";

}  // namespace

void TalkOptions::add_to(CLI::App& command) {
    command.add_flag("-q,--quiet", quiet, "No progress, no summary; warnings and errors stay");
    command.add_option("--log", log, "How messages are written to standard error: text or json")
        ->check(CLI::IsMember({"text", "json"}))
        ->capture_default_str();
}

void add_criteria_option(CLI::App& command, std::string& to, const std::string& what) {
    command.add_option("--criteria", to, what)->type_name("PROFILE");
}

void allow_range(CLI::Option& option, double least, double most) {
    const std::string range = plain_number(least) + " to " + plain_number(most);
    option.check(CLI::Validator{[=](const std::string& typed) -> std::string {
                                    double value = 0.0;
                                    const bool inside = CLI::detail::lexical_cast(typed, value) &&
                                                        value >= least && value <= most;
                                    return inside
                                               ? std::string{}
                                               : "\"" + typed + "\" is not a number from " + range;
                                },
                                range});
}

std::string read_text_file(const std::string& path) {
    constexpr std::uintmax_t kMostBytes = std::uintmax_t{16} << 20U;
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) {
        throw JobError{path + ": is a folder, not a file"};
    }
    std::ifstream in{path, std::ios::binary};
    if (!in) {
        throw JobError{path + ": cannot be read; check the name"};
    }
    std::string text;
    char block[65536];
    while (in.read(block, sizeof block) || in.gcount() > 0) {
        text.append(block, static_cast<std::size_t>(in.gcount()));
        if (text.size() > kMostBytes) {
            throw JobError{path + ": is larger than 16 MiB; is it the right file?"};
        }
    }
    return text;
}

Profile read_criteria(const std::string& name_or_file) {
    const auto shipped =
        shipped_profile(name_or_file.empty() ? kDefaultCriteria : std::string_view{name_or_file});
    if (shipped) {
        return *shipped;
    }
    std::error_code error;
    if (!std::filesystem::exists(name_or_file, error)) {
        const auto names = shipped_profile_names();
        std::string list;
        for (const std::string_view name : names) {
            list += (list.empty() ? "" : ", ") + std::string{name};
        }
        throw JobError{name_or_file + ": no such file, and no shipped criteria profile (" + list +
                       ")" + did_you_mean(name_or_file, names)};
    }
    return read_from_file(name_or_file, [](std::string_view text) {
        Profile profile = read_profile(text);
        refuse_borrowed_name(profile);
        return profile;
    });
}

std::vector<std::filesystem::path> files_read(const std::string& criteria,
                                              const std::string& wood_tables) {
    std::vector<std::filesystem::path> files;
    if (!criteria.empty() && !shipped_profile(criteria)) {
        files.emplace_back(criteria);
    }
    if (!wood_tables.empty()) {
        files.emplace_back(wood_tables);
    }
    return files;
}

void refuse_empty_values(const CLI::App& command) {
    for (const CLI::Option* option : command.get_options()) {
        const auto& values = option->results();
        // A flag has no value of its own.
        if (option->get_type_size() > 0 &&
            std::any_of(
                values.begin(), values.end(), [](const std::string& v) { return v.empty(); })) {
            throw JobError{option->get_name() +
                           ": has an empty value; give it one, or leave the option away"};
        }
    }
}

void write_text_file(const std::string& path, const std::string& text, bool overwrite) {
    std::error_code error;
    if (std::filesystem::is_directory(path, error)) {
        throw std::runtime_error{path + ": is a folder; name a file"};
    }
    if (!overwrite && std::filesystem::exists(path, error)) {
        throw std::runtime_error{path + ": is there already; use --overwrite to replace it"};
    }
    const std::string beside = path + ".part";
    std::ofstream out{beside, std::ios::binary | std::ios::trunc};
    out.write(text.data(), static_cast<std::streamsize>(text.size()));
    out.close();
    if (out) {
        std::filesystem::rename(beside, path, error);
    }
    if (!out || error) {
        std::error_code ignored;
        std::filesystem::remove(beside, ignored);
        throw std::runtime_error{path +
                                 ": cannot be written; check the folder and the space in it"};
    }
}

}  // namespace linewood
