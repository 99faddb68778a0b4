#pragma once

#include <atomic>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <exception>
#include <functional>
#include <future>
#include <mutex>
#include <optional>
#include <thread>

namespace linewood {

/// Batches in, batches out, in the same order: `read` is called in a thread of its own, `work` on each
/// batch in parallel, `write` in the calling thread. At most `threads` + 2 batches exist at once.
///
/// `read` returns nothing after the last batch. An exception anywhere ends the run and is thrown here,
/// once the threads have stopped.
template <typename Batch, typename Result>
void run_in_order(const std::function<std::optional<Batch>()>& read,
                  const std::function<Result(Batch)>& work,
                  const std::function<void(Result)>& write,
                  std::size_t threads) {
    std::mutex mutex;
    std::condition_variable changed;
    std::deque<std::future<Result>> waiting;
    bool ended = false;
    std::atomic<bool> stopped{false};
    std::exception_ptr read_failure;

    // One thread: no helpers at all, for those who want to follow it in a debugger.
    if (threads <= 1) {
        while (std::optional<Batch> batch = read()) {
            write(work(std::move(*batch)));
        }
        return;
    }

    std::thread reader{[&] {
        try {
            while (!stopped) {
                std::optional<Batch> batch = read();
                if (!batch) {
                    break;
                }
                auto result = std::async(
                    std::launch::async,
                    [&work, b = std::move(*batch)]() mutable { return work(std::move(b)); });
                std::unique_lock lock{mutex};
                changed.wait(lock, [&] { return waiting.size() < threads || stopped; });
                waiting.push_back(std::move(result));
                changed.notify_all();
            }
        } catch (...) {
            read_failure = std::current_exception();
        }
        const std::lock_guard lock{mutex};
        ended = true;
        changed.notify_all();
    }};

    std::exception_ptr failure;
    try {
        for (;;) {
            std::future<Result> next;
            {
                std::unique_lock lock{mutex};
                changed.wait(lock, [&] { return !waiting.empty() || ended; });
                if (waiting.empty()) {
                    break;
                }
                next = std::move(waiting.front());
                waiting.pop_front();
                changed.notify_all();
            }
            write(next.get());
        }
    } catch (...) {
        failure = std::current_exception();
    }
    {
        const std::lock_guard lock{mutex};
        stopped = true;
        changed.notify_all();
    }
    reader.join();
    waiting.clear();  // waits for work still running
    if (failure) {
        std::rethrow_exception(failure);
    }
    if (read_failure) {
        std::rethrow_exception(read_failure);
    }
}

}  // namespace linewood
