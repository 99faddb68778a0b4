#include "geo/cluster/worker_parts.hpp"

#include <algorithm>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace linewood {
namespace {

/// Which part is next, what is done, and whether to stop; for all threads.
class Ledger {
public:
    Ledger(std::size_t parts, const KeepGoing& keep_going)
        : parts_{parts}, keep_going_{keep_going} {}

    /// The next part; `parts` where there is none or all shall stop.
    std::size_t take() {
        const std::lock_guard lock{mutex_};
        return stopped_ || error_ ? parts_ : std::min(next_++, parts_);
    }
    void finish() {
        const std::lock_guard lock{mutex_};
        ++done_;
        const double share = static_cast<double>(done_) / static_cast<double>(parts_);
        if (!stopped_ && keep_going_ && !keep_going_(share)) {
            stopped_ = true;
        }
    }
    void fail(std::exception_ptr error) {
        const std::lock_guard lock{mutex_};
        error_ = std::move(error);
    }
    /// Once all threads are over.
    bool conclude() const {
        if (error_) {
            std::rethrow_exception(error_);
        }
        return !stopped_;
    }

private:
    std::mutex mutex_;
    std::size_t parts_;
    const KeepGoing& keep_going_;
    std::size_t next_ = 0;
    std::size_t done_ = 0;
    bool stopped_ = false;
    std::exception_ptr error_;
};

}  // namespace

bool do_parts(std::size_t parts,
              unsigned threads,
              const KeepGoing& keep_going,
              const std::function<void(unsigned worker, std::size_t part)>& work) {
    Ledger ledger{parts, keep_going};
    const auto run = [&](unsigned worker) {
        try {
            for (std::size_t part = ledger.take(); part < parts; part = ledger.take()) {
                work(worker, part);
                ledger.finish();
            }
        } catch (...) {
            ledger.fail(std::current_exception());
        }
    };
    std::vector<std::thread> others;
    for (unsigned worker = 1; worker < threads; ++worker) {
        try {
            others.emplace_back(run, worker);
        } catch (...) {
            break;  // no more threads to be had: those there are do the work
        }
    }
    run(0);
    for (std::thread& other : others) {
        other.join();
    }
    return ledger.conclude();
}

}  // namespace linewood
