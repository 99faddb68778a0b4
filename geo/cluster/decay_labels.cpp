#include "geo/cluster/decay_labels.hpp"

#include <algorithm>
#include <cassert>

#include "geo/stats/replicate_random.hpp"

namespace linewood {

DecayLabels::DecayLabels(std::span<const std::uint8_t> decayed,
                         std::span<const std::uint32_t> stratum) {
    assert(stratum.empty() || stratum.size() == decayed.size());
    const auto stratum_of = [&](std::size_t pole) { return stratum.empty() ? 0U : stratum[pole]; };
    const std::uint32_t last =
        stratum.empty() ? 0U : *std::max_element(stratum.begin(), stratum.end());
    strata_.resize(last + 1U);
    for (std::size_t pole = 0; pole < decayed.size(); ++pole) {
        StratumTotal& total = strata_[stratum_of(pole)];
        ++total.poles;
        total.decayed += decayed[pole] != 0 ? 1U : 0U;
        decayed_ += decayed[pole] != 0 ? 1U : 0U;
    }
    std::vector<std::uint32_t> next(strata_.size(), 0);
    for (std::size_t s = 1; s < strata_.size(); ++s) {
        next[s] = next[s - 1] + strata_[s - 1].poles;
    }
    order_.resize(decayed.size());
    for (std::size_t pole = 0; pole < decayed.size(); ++pole) {
        order_[next[stratum_of(pole)]++] = static_cast<std::uint32_t>(pole);
    }
}

void DecayLabels::draw(std::uint64_t seed,
                       std::uint64_t replicate,
                       std::vector<std::uint32_t>& out) {
    out.clear();
    ReplicateRandom random{seed, replicate};
    std::uint32_t begin = 0;
    for (const StratumTotal& stratum : strata_) {
        for (std::uint32_t i = 0; i < stratum.decayed; ++i) {
            const std::uint32_t here = begin + i;
            const std::uint32_t there = here + random.below(stratum.poles - i);
            std::swap(order_[here], order_[there]);
            swaps_.emplace_back(here, there);
            out.push_back(order_[here]);
        }
        begin += stratum.poles;
    }
    // Back to the order every replicate starts from.
    for (; !swaps_.empty(); swaps_.pop_back()) {
        std::swap(order_[swaps_.back().first], order_[swaps_.back().second]);
    }
}

}  // namespace linewood
