#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>

namespace linewood {

/// Random numbers of one replicate of a Monte Carlo test: the same on every machine, whatever the
/// thread, the block or the compiler, and independent of every other replicate.
/// SplitMix64 (Steele, Lea & Flood 2014, OOPSLA), started from a hash of seed and replicate.
class ReplicateRandom {
public:
    ReplicateRandom(std::uint64_t seed, std::uint64_t replicate);

    /// Uniform over all 64-bit numbers.
    std::uint64_t next();

    /// Uniform in [0, bound): the upper half of a product, the few uneven draws taken again (Lemire
    /// 2019, ACM Trans. Model. Comput. Simul. 29:3). @pre bound > 0
    std::uint32_t below(std::uint32_t bound);

    /// Fisher-Yates, from the front: every order of `values` is equally likely.
    template <typename Value>
    void shuffle(std::span<Value> values) {
        for (std::size_t i = 0; i + 1 < values.size(); ++i) {
            const auto left = static_cast<std::uint32_t>(values.size() - i);
            std::swap(values[i], values[i + below(left)]);
        }
    }

private:
    std::uint64_t state_;
};

}  // namespace linewood
