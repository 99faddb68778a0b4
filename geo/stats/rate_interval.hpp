#pragma once

#include <cstdint>
#include <optional>

namespace linewood {

/// Two limits between which the truth lies, with a stated confidence.
struct RateInterval {
    double low = 0.0;
    double high = 1.0;
};

/// Wilson's score interval (1927, J. Am. Stat. Assoc. 22:209-212) of the share of `hits` in `n`, within [0, 1]:
///     (p + z^2/2n -+ z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n)
/// Absent where n is 0: nothing is known of nothing.
/// @pre 0 <= hits <= n, 0 < confidence < 1
std::optional<RateInterval> wilson_interval(std::int64_t hits,
                                            std::int64_t n,
                                            double confidence = 0.95);

/// Garwood's exact 95 % interval (F. Garwood, Biometrika 28, 1936, 437-442) of the mean of a Poisson count:
/// the lower limit L has P(X >= count | L) = 2.5 % (0 for no events), the upper U has
/// P(X <= count | U) = 2.5 %. Divide by the kilometres for a rate. Right to 1e-10 relative up to a
/// count of a million.
/// @pre count >= 0.
RateInterval poisson_interval(std::int64_t count);

}  // namespace linewood
