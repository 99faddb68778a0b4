#include "geo/stats/rate_interval.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "geo/stats/normal.hpp"

namespace linewood {

namespace {

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
