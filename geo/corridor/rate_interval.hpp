#pragma once

#include <cstdint>

namespace linewood {

/// Two limits between which the truth lies with 95 %.
struct RateLimits {
    double lower = 0.0;
    double upper = 0.0;
};

/// Wilson's score interval (E. B. Wilson, J. Am. Stat. Assoc. 22, 1927, 209-212) of a share, in [0, 1]:
/// (p + z^2/2n -+ z sqrt(p(1-p)/n + z^2/4n^2)) / (1 + z^2/n), z = 1.959964 (95 %), p = hits / n.
/// @pre 0 <= hits <= n, n > 0.
RateLimits share_limits(std::int64_t hits, std::int64_t n);

/// Garwood's exact interval (F. Garwood, Biometrika 28, 1936, 437-442) of the mean of a Poisson count:
/// the lower limit L has P(X >= count | L) = 2.5 % (0 for no events), the upper U has
/// P(X <= count | U) = 2.5 %. Divide by the kilometres for a rate. Right to 1e-10 relative up to a
/// count of a million.
/// @pre count >= 0.
RateLimits count_limits(std::int64_t count);

}  // namespace linewood
