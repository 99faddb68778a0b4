#pragma once

#include <cstdint>
#include <map>
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
    FindingLog(LayerWriter& writer, RunMonitor& monitor) : writer_{writer}, monitor_{monitor} {}

    void write(const Finding& finding);
    /// Writes all and empties the list.
    void write(Findings& findings);

    struct Count {
        Severity severity = Severity::note;
        std::int64_t count = 0;
    };
    /// By code, in alphabetical order.
    const std::map<std::string, Count, std::less<>>& counts() const { return counts_; }
    std::int64_t total() const { return total_; }

private:
    LayerWriter& writer_;
    RunMonitor& monitor_;
    std::map<std::string, Count, std::less<>> counts_;
    std::int64_t total_ = 0;
};

}  // namespace linewood
