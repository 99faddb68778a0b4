#pragma once

#include <chrono>
#include <csignal>
#include <cstdint>
#include <string>

#include "src/report/log.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Shows a progress bar, with the time left of a long stage, where standard error is a terminal; as JSON one event a stage. Doubts about whole layers
/// are a line each.
/// Stops the run when SIGINT or SIGTERM came.
class TerminalMonitor : public RunMonitor {
public:
    explicit TerminalMonitor(const Log& log);
    ~TerminalMonitor() override;

    void stage(std::string_view name, std::int64_t total) override;
    void advance(std::int64_t steps) override;
    void tell(const Finding& doubt) override;
    void finish() override;

private:
    void draw();
    void clear();

    const Log& log_;
    bool bar_ = false;
    bool drawn_ = false;
    std::string stage_;
    std::int64_t total_ = -1;
    std::int64_t done_ = 0;
    std::chrono::steady_clock::time_point begun_;  ///< the stage
    std::chrono::steady_clock::time_point last_draw_;
};

/// From now on SIGINT, SIGTERM and SIGHUP only set a flag that TerminalMonitor looks at (those that were
/// ignored before stay so), and a file that may grow no further is an error of writing.
void catch_interrupts();

}  // namespace linewood
