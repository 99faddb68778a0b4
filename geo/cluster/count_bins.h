#pragma once

#include <cmath>
#include <span>
#include <vector>

#include "geo/cluster/scan_frame.h"

namespace linewood {

/// How many decayed poles a window needs to beat an LLR, without a logarithm a window: windows are
/// put in bins of like measure (even steps of its root, along which the LLR changes evenly), and for
/// each bin the least count is found that might beat it at the bin's small end. A count below it
/// cannot; a count from it on may, and is worked out exactly.
class CountBins {
public:
    explicit CountBins(const ScanFrame& frame);

    std::size_t size() const { return low_.size(); }
    std::uint32_t bin_of(std::int64_t measure) const {
        const double bin = std::sqrt(static_cast<double>(measure)) * scale_;
        const auto last = static_cast<std::uint32_t>(low_.size() - 1);
        return bin < static_cast<double>(last) ? static_cast<std::uint32_t>(bin) : last;
    }

    /// For each bin, the count that a window must exceed to have an LLR above `llr`; at most `none`,
    /// which no window exceeds.
    void must_exceed(double llr, std::int64_t none, std::span<std::int64_t> out) const;

private:
    struct Low {
        std::int64_t measure = 0;  ///< at most that of any window in the bin
        double expected = 0.0;     ///< decayed poles by it
        double log_in = 0.0;       ///< Poisson: ln mu
        double log_out = 0.0;      ///< Poisson: ln (C - mu)
    };

    bool may_beat(std::int64_t count, const Low& low, double llr) const;
    double nearly(std::int64_t count, const Low& low) const;

    const ScanFrame& frame_;
    double scale_ = 1.0;
    double constant_ = 0.0;        ///< Bernoulli: C ln C + (N-C) ln (N-C) - N ln N
    std::vector<double> k_log_k_;  ///< of 0, 1, ...
    std::vector<Low> low_;
};

}  // namespace linewood
