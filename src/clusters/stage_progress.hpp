#pragma once

#include <cmath>
#include <cstdint>

#include "geo/cluster/worker_parts.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// Tells a monitor how far a computation is that knows its share done only. Outlives the call.
class StageProgress {
public:
    static constexpr std::int64_t kSteps = 1000;

    StageProgress(RunMonitor& monitor, std::string_view name) : monitor_{monitor} {
        monitor.stage(name, kSteps);
    }
    KeepGoing keep_going() {
        return [this](double done) {
            const auto now = static_cast<std::int64_t>(std::floor(done * kSteps));
            monitor_.advance(now - given_);  // throws where the user stopped the run
            given_ = now;
            return true;
        };
    }

private:
    RunMonitor& monitor_;
    std::int64_t given_ = 0;
};

}  // namespace linewood
