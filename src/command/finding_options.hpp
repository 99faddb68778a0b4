#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "src/job/network_job.hpp"
#include "src/pipeline/finding_log.hpp"

namespace CLI {
class App;
}

namespace linewood {

/// What the commands that write findings do with them.
struct FindingOptions {
    bool strict = false;
    std::int64_t max_findings = -1;  ///< negative: not given

    void add_to(CLI::App& command);
    void fill(NetworkJob& job) const;
    /// kExitFailed where strict and errors were found, else kExitDone.
    int exit_code(const FindingLog::Counts& found) const;
};

}  // namespace linewood
