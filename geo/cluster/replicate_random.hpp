#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

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

/// How many poles a stratum has, and how many of them are decayed.
struct StratumTotal {
    std::uint32_t poles = 0;
    std::uint32_t decayed = 0;
};

/// Random labelling: pole positions are fixed, and which of the poles are decayed is random, with
/// as many decayed in every stratum (age band, species, ...) as there are in truth.
class DecayLabels {
public:
    /// @param decayed one a pole, 0 or 1.
    /// @param stratum one a pole, counted from 0 without gaps that matter; empty: one stratum.
    DecayLabels(std::span<const std::uint8_t> decayed, std::span<const std::uint32_t> stratum);

    std::size_t pole_count() const { return order_.size(); }
    std::uint32_t decayed_count() const { return decayed_; }
    std::span<const StratumTotal> strata() const { return strata_; }

    /// The poles that are decayed in that replicate, stratum by stratum; `decayed_count()` of them.
    /// Cost: in proportion to them.
    void draw(std::uint64_t seed, std::uint64_t replicate, std::vector<std::uint32_t>& out);

private:
    std::vector<StratumTotal> strata_;
    std::vector<std::uint32_t> order_;  ///< poles by stratum, then index
    std::vector<std::pair<std::uint32_t, std::uint32_t>> swaps_;
    std::uint32_t decayed_ = 0;
};

}  // namespace linewood
