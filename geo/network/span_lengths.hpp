#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace linewood {

/// The lengths of spans, by share: the length that so many of them do not pass (nearest rank, so each
/// is the length of a span there is).
struct LengthQuantiles {
    static constexpr std::array<double, 6> kShares{0.05, 0.25, 0.50, 0.75, 0.95, 1.0};
    std::array<double, kShares.size()> metres{};  ///< all 0 where there are no spans
    std::int64_t spans = 0;

    double p95() const { return metres[4]; }
    double longest() const { return metres[5]; }
};

/// @param lengths metres; put in another order. Cost: linear.
LengthQuantiles length_quantiles(std::vector<double>& lengths);

/// A span is suspiciously long above this many times the 95 % quantile.
inline constexpr double kLongSpanTimes = 5.0;

}  // namespace linewood
