#include "geo/corridor/rate_interval.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {

namespace {

/// The 97.5 % quantile of the normal distribution.
constexpr double kZ = 1.959963984540054;
constexpr double kTail = 0.025;

/// exp(-x) x^a / Gamma(a + 1).
double poisson_term(double a, double x) {
    return std::exp(a * std::log(x) - x - std::lgamma(a + 1.0));
}

/// P(X >= a) for a Poisson count with the mean x: the lower regularised incomplete gamma function, by
/// its series below a + 1.
double at_least_by_series(double a, double x) {
    double term = 1.0;
    double sum = 1.0;
    double k = a;
    while (term > sum * 1e-17) {
        k += 1.0;
        term *= x / k;
        sum += term;
    }
    return sum * poisson_term(a, x);
}

/// P(X < a): the upper one, by its continued fraction (Lentz) above a + 1.
double fewer_by_fraction(double a, double x) {
    constexpr double kTiny = 1e-300;
    double b = x + 1.0 - a;
    double c = 1.0 / kTiny;
    double d = 1.0 / b;
    double h = d;
    double i = 0.0;
    for (;;) {
        i += 1.0;
        const double an = -i * (i - a);
        b += 2.0;
        d = an * d + b;
        d = 1.0 / (std::abs(d) < kTiny ? kTiny : d);
        c = b + an / c;
        c = std::abs(c) < kTiny ? kTiny : c;
        h *= d * c;
        if (std::abs(d * c - 1.0) < 1e-16) {
            return h * a * poisson_term(a, x);
        }
    }
}

double at_least(double a, double x) {
    return x < a + 1.0 ? at_least_by_series(a, x) : 1.0 - fewer_by_fraction(a, x);
}

double fewer(double a, double x) {
    return x < a + 1.0 ? 1.0 - at_least_by_series(a, x) : fewer_by_fraction(a, x);
}

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

RateLimits share_limits(std::int64_t hits, std::int64_t n) {
    const auto count = static_cast<double>(n);
    const double p = static_cast<double>(hits) / count;
    const double z2 = kZ * kZ / count;
    const double centre = p + 0.5 * z2;
    const double half = kZ * std::sqrt(p * (1.0 - p) / count + 0.25 * z2 / count);
    return {hits == 0 ? 0.0 : std::max(0.0, (centre - half) / (1.0 + z2)),
            hits == n ? 1.0 : std::min(1.0, (centre + half) / (1.0 + z2))};
}

RateLimits count_limits(std::int64_t count) {
    const auto k = static_cast<double>(count);
    const double reach = 10.0 * std::sqrt(k + 1.0) + 10.0;
    RateLimits limits;
    if (count > 0) {
        limits.lower = crossing(0.0, k, [&](double mean) { return at_least(k, mean) > kTail; });
    }
    limits.upper =
        crossing(k, k + reach, [&](double mean) { return fewer(k + 1.0, mean) < kTail; });
    return limits;
}

}  // namespace linewood
