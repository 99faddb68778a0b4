#include "src/pipeline/ordered_pipeline.hpp"

#include <chrono>
#include <numeric>
#include <stdexcept>
#include <vector>

#include <gtest/gtest.h>

namespace linewood {
namespace {

constexpr std::size_t kThreads[] = {1, 2, 3, 8};

/// Numbers from 0 up to `count`.
std::function<std::optional<int>()> numbers(int count, int& next) {
    return [count, &next]() -> std::optional<int> {
        return next < count ? std::optional<int>{next++} : std::nullopt;
    };
}

TEST(OrderedPipeline, ResultsComeInTheOrderOfTheirBatches) {
    for (const std::size_t threads : kThreads) {
        int next = 0;
        std::vector<int> written;
        run_in_order<int, int>(
            numbers(500, next),
            [](int n) {
                // Later batches are ready sooner.
                std::this_thread::sleep_for(std::chrono::microseconds{(7 - n % 7) * 20});
                return 2 * n;
            },
            [&](int n) { written.push_back(n); },
            threads);
        ASSERT_EQ(written.size(), 500U);
        for (int i = 0; i < 500; ++i) {
            EXPECT_EQ(written[static_cast<std::size_t>(i)], 2 * i);
        }
    }
}

TEST(OrderedPipeline, NothingToReadIsNothingToWrite) {
    for (const std::size_t threads : kThreads) {
        int next = 0;
        run_in_order<int, int>(
            numbers(0, next),
            [](int n) { return n; },
            [](int) { ADD_FAILURE() << "nothing was read"; },
            threads);
    }
}

TEST(OrderedPipeline, OnlySoManyBatchesAreAliveAtOnce) {
    for (const std::size_t threads : kThreads) {
        int next = 0;
        std::atomic<int> alive{0};
        std::atomic<int> most{0};
        run_in_order<int, int>(
            [&]() -> std::optional<int> {
                most = std::max(most.load(), ++alive);
                return next < 300 ? std::optional<int>{next++} : std::nullopt;
            },
            [](int n) { return n; },
            [&](int) { --alive; },
            threads);
        EXPECT_LE(most.load(), static_cast<int>(threads) + 2) << threads;
    }
}

/// Runs with one step that throws at batch 20; gives what was written before.
std::vector<int> failing(const std::string& step, std::size_t threads) {
    int next = 0;
    std::vector<int> written;
    const auto at = [&](const char* here, int n) {
        if (step == here && n == 20) {
            throw std::runtime_error{step};
        }
        return n;
    };
    try {
        run_in_order<int, int>([&]() -> std::optional<int> { return at("read", next++); },
                               [&](int n) { return at("work", n); },
                               [&](int n) { written.push_back(at("write", n)); },
                               threads);
        ADD_FAILURE() << "an error was lost";
    } catch (const std::runtime_error& e) {
        EXPECT_EQ(e.what(), step);
    }
    return written;
}

TEST(OrderedPipeline, AnErrorInAnyStepEndsTheRunAndComesOut) {
    for (const std::size_t threads : kThreads) {
        for (int round = 0; round < 20; ++round) {
            for (const char* const step : {"read", "work", "write"}) {
                // What was read before the error is written, in order, and nothing behind it.
                const std::vector<int> written = failing(step, threads);
                std::vector<int> expected(20);
                std::iota(expected.begin(), expected.end(), 0);
                EXPECT_EQ(written, expected) << step << ' ' << threads;
            }
        }
    }
}

}  // namespace
}  // namespace linewood
