#include "geo/stats/rate_interval.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "geo/stats/gamma_tail.hpp"
#include "geo/stats/normal.hpp"

namespace linewood {

namespace {

constexpr double kTail = 0.025;

/// P(X >= a) for a Poisson count with the mean x.
double at_least(double a, double x) { return gamma_lower(a, x); }

/// P(X < a).
double fewer(double a, double x) { return gamma_upper(a, x); }

/// Where `rising` passes the tail, between two places on either side of it.
template <typename Rising>
double crossing(double low, double high, Rising rising) {
    while (high - low > 1e-14 * high) {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high) {
            break;
        }
        (rising(middle) ? high : low) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace

std::optional<RateInterval> wilson_interval(std::int64_t hits, std::int64_t n, double confidence) {
    assert(hits >= 0 && hits <= n && confidence > 0.0 && confidence < 1.0);
    if (n == 0) {
        return std::nullopt;
    }
    // Asked for every corridor and area with the same confidence, and slow to find.
    static const double z95 = normal_quantile(0.975);
    const double z = confidence == 0.95 ? z95 : normal_quantile(0.5 + 0.5 * confidence);
    const auto count = static_cast<double>(n);
    const double p = static_cast<double>(hits) / count;
    const double z2 = z * z;
    const double centre = p + z2 / (2.0 * count);
    const double half = z * std::sqrt(p * (1.0 - p) / count + z2 / (4.0 * count * count));
    const double whole = 1.0 + z2 / count;
    RateInterval interval;
    interval.low = hits == 0 ? 0.0 : std::max(0.0, (centre - half) / whole);
    interval.high = hits == n ? 1.0 : std::min(1.0, (centre + half) / whole);
    return interval;
}

RateInterval poisson_interval(std::int64_t count) {
    const auto k = static_cast<double>(count);
    const double reach = 10.0 * std::sqrt(k + 1.0) + 10.0;
    RateInterval interval;
    if (count > 0) {
        interval.low = crossing(0.0, k, [&](double mean) { return at_least(k, mean) > kTail; });
    }
    interval.high =
        crossing(k, k + reach, [&](double mean) { return fewer(k + 1.0, mean) < kTail; });
    return interval;
}

}  // namespace linewood
