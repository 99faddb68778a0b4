#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "src/command/assess_options.hpp"
#include "src/command/network_options.hpp"
#include "src/job/job_file.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// `--job FILE`: what is read, how it is mapped, and settings that the command line wins over.
class JobOptions {
public:
    void add_to(CLI::App& command);

    /// Reads the file, where one is named, and puts its settings where the command line gave none.
    /// @param assess null: the command has no options of that kind.
    /// @throws JobError that opens with the file's name.
    void apply(NetworkOptions& network, std::string& criteria, AssessOptions* assess);
    /// Puts the layers and the file's name into the job.
    void fill(NetworkJob& job) const;
    /// The same, and refuses a species of the file that is none of the job's tables.
    void fill(AssessJob& job) const;
    /// Refuses an output that would replace the job file. @throws JobError
    void refuse_to_replace_it(const std::filesystem::path& out) const;

    bool given() const { return !file_.empty(); }
    const JobFile& job() const { return job_; }
    const std::string& file() const { return file_; }

private:
    template <typename T, typename U>
    void set(const char* option, const std::optional<T>& from, U& to) const;

    CLI::App* command_ = nullptr;
    std::string file_;
    std::string sha256_;
    JobFile job_;
};

}  // namespace linewood
