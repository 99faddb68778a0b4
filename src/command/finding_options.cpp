#include "src/command/finding_options.hpp"

#include <algorithm>

#include "src/command/command.hpp"
#include "src/command/shared_options.hpp"

#include <CLI/CLI.hpp>

namespace linewood {

void FindingOptions::add_to(CLI::App& command) {
    command.add_flag("--strict", strict, "Exit 1 where findings are errors; the output is written")
        ->group("Findings");
    CLI::Option* most = command.add_option(
        "--max-findings", max_findings, "Write so many findings at most; all are counted");
    allow_range(*most->type_name("N")->group("Findings"), 0.0, 1e15);
}

void FindingOptions::fill(NetworkJob& job) const {
    if (max_findings >= 0) {
        job.max_findings = max_findings;
    }
}

int FindingOptions::exit_code(const FindingLog::Counts& found) const {
    const bool errors = std::any_of(found.begin(), found.end(), [](const auto& entry) {
        return entry.second.severity == Severity::error && entry.second.count > 0;
    });
    return strict && errors ? kExitFailed : kExitDone;
}

}  // namespace linewood
