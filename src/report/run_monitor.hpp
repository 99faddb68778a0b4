#pragma once

#include <cstdint>
#include <stdexcept>
#include <string_view>

#include "assess/record/finding.hpp"

namespace linewood {

/// The user stopped the run (Ctrl-C). Everything half written has been removed.
class Interrupted : public std::runtime_error {
public:
    Interrupted() : std::runtime_error{"stopped; nothing was written"} {}
};

/// Watches a long run: shows how far it is, and stops it when asked to. For one thread.
class RunMonitor {
public:
    virtual ~RunMonitor() = default;
    RunMonitor() = default;
    RunMonitor(const RunMonitor&) = delete;
    RunMonitor& operator=(const RunMonitor&) = delete;

    /// A stage begins; `total` steps are expected, or -1 where that is not known.
    virtual void stage(std::string_view name, std::int64_t total) = 0;
    /// So many steps more are done. @throws Interrupted
    virtual void advance(std::int64_t steps) = 0;
    /// A doubt about a layer as a whole, said at once; those about single features only go into the findings.
    virtual void tell(const Finding& /*doubt*/) {}
    /// All stages are over; a progress bar is taken away.
    virtual void finish() = 0;
};

}  // namespace linewood
