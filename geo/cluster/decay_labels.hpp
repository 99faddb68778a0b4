#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace linewood {

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
