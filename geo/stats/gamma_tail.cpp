#include "geo/stats/gamma_tail.hpp"

#include <cmath>

#include "geo/stats/normal.hpp"

namespace linewood {
namespace {

/// exp(-x) x^a / Gamma(a + 1).
double poisson_term(double a, double x) {
    return std::exp(a * std::log(x) - x - std::lgamma(a + 1.0));
}

/// P(a, x) by its series; for x below a + 1.
double lower_by_series(double a, double x) {
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

/// Q(a, x) by its continued fraction (Lentz); for x above a + 1.
double upper_by_fraction(double a, double x) {
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
        if (std::abs(d * c - 1.0) < 1e-15) {
            return h * a * poisson_term(a, x);
        }
    }
}

}  // namespace

double gamma_lower(double a, double x) {
    if (!(x > 0.0)) {
        return 0.0;
    }
    return x < a + 1.0 ? lower_by_series(a, x) : 1.0 - upper_by_fraction(a, x);
}

double gamma_upper(double a, double x) {
    if (!(x > 0.0)) {
        return 1.0;
    }
    return x < a + 1.0 ? 1.0 - lower_by_series(a, x) : upper_by_fraction(a, x);
}

double skewed_upper(double z, double skewness) {
    constexpr double kNearlyNone = 0.005;
    if (std::abs(skewness) < kNearlyNone) {
        return normal_upper(z);
    }
    const double a = 4.0 / (skewness * skewness);
    const double from_middle = std::sqrt(a) * z;
    return skewness > 0.0 ? gamma_upper(a, a + from_middle) : gamma_lower(a, a - from_middle);
}

}  // namespace linewood
