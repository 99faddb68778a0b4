#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "assess/record/finding.hpp"
#include "geo/io/layer_writer.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Writes findings as they come, and counts them; those about a layer as a whole are told to the monitor as well.
/// For one thread.
class FindingLog {
public:
    /// @param most rows to write; further findings are counted only. Nothing: no limit.
    FindingLog(LayerWriter& writer, RunMonitor& monitor, std::optional<std::int64_t> most = {})
        : writer_{writer}, monitor_{monitor}, most_{most} {}

    void write(const Finding& finding);
    /// Writes all and empties the list.
    void write(Findings& findings);

    struct Count {
        Severity severity = Severity::note;
        std::int64_t count = 0;
    };
    using Counts = std::map<std::string, Count, std::less<>>;
    /// By code, in alphabetical order; those that were not written too.
    const Counts& counts() const { return counts_; }
    std::int64_t total() const { return total_; }
    /// Counted but not written.
    std::int64_t unwritten() const { return unwritten_; }

private:
    void append(const Finding& finding);

    LayerWriter& writer_;
    RunMonitor& monitor_;
    std::optional<std::int64_t> most_;
    Counts counts_;
    std::int64_t total_ = 0;
    std::int64_t unwritten_ = 0;
};

}  // namespace linewood
