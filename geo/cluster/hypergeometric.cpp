#include "geo/cluster/hypergeometric.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

namespace linewood {
namespace {

/// ln n! less Stirling's formula.
double stirling_error(double n) {
    if (n <= 15.0) {
        // 15! is exact in a double.
        return std::log(std::tgamma(n + 1.0)) - (n + 0.5) * std::log(n) + n -
               0.5 * std::log(2.0 * std::numbers::pi);
    }
    const double n2 = n * n;
    return (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - (1.0 / 1680 - 1.0 / 1188 / n2) / n2) / n2) / n2) /
           n;
}

/// x ln(x/m) + m - x, also where x is near m.
double deviance(double x, double m) {
    if (std::abs(x - m) >= 0.1 * (x + m)) {
        return x * std::log(x / m) + m - x;
    }
    const double v = (x - m) / (x + m);
    double sum = (x - m) * v;
    double term = 2.0 * x * v;
    for (int j = 1;; ++j) {
        term *= v * v;
        const double next = sum + term / (2 * j + 1);
        if (next == sum) {
            return sum;
        }
        sum = next;
    }
}

/// ln of the binomial probability of x in n; p + q = 1, both above 0.
double log_binomial(double x, double n, double p, double q) {
    if (x == 0.0) {
        return n == 0.0 ? 0.0 : (p < 0.1 ? -deviance(n, n * q) - n * p : n * std::log(q));
    }
    if (x == n) {
        return q < 0.1 ? -deviance(n, n * p) - n * q : n * std::log(p);
    }
    return stirling_error(n) - stirling_error(x) - stirling_error(n - x) - deviance(x, n * p) -
           deviance(n - x, n * q) -
           0.5 * (std::log(2.0 * std::numbers::pi) + std::log(x) + std::log1p(-x / n));
}

/// A sample with its numbers as doubles, and the range its count can take.
class Counts {
public:
    explicit Counts(const Sample& sample)
        : poles_{static_cast<double>(sample.poles)},
          decayed_{static_cast<double>(sample.decayed)},
          drawn_{static_cast<double>(sample.drawn)},
          low_{std::max(0.0, drawn_ + decayed_ - poles_)},
          high_{std::min(drawn_, decayed_)} {
        assert(sample.decayed <= sample.poles && sample.drawn <= sample.poles);
    }

    double low() const { return low_; }
    double high() const { return high_; }
    double mode() const {
        return std::clamp(
            std::floor((drawn_ + 1.0) * (decayed_ + 1.0) / (poles_ + 2.0)), low_, high_);
    }
    /// P(k + 1) / P(k).
    double ratio(double k) const {
        return (decayed_ - k) * (drawn_ - k) / ((k + 1.0) * (poles_ - decayed_ - drawn_ + k + 1.0));
    }
    double log_probability(double k) const {
        if (low_ == high_) {
            return 0.0;
        }
        const double p = drawn_ / poles_;
        const double q = (poles_ - drawn_) / poles_;
        return log_binomial(k, decayed_, p, q) + log_binomial(drawn_ - k, poles_ - decayed_, p, q) -
               log_binomial(drawn_, poles_, p, q);
    }
    /// (P(k) + P(k+1) + ...) / P(k).
    double upward(double k) const {
        double sum = 1.0;
        double term = 1.0;
        while (k < high_ && term > 1e-18 * sum) {
            term *= ratio(k);
            sum += term;
            k += 1.0;
        }
        return sum;
    }
    /// (P(k) + P(k-1) + ...) / P(k).
    double downward(double k) const {
        double sum = 1.0;
        double term = 1.0;
        while (k > low_ && term > 1e-18 * sum) {
            k -= 1.0;
            term /= ratio(k);
            sum += term;
        }
        return sum;
    }

private:
    double poles_;
    double decayed_;
    double drawn_;
    double low_;
    double high_;
};

/// The probabilities of 0, 1, ... up to the most there can be.
std::vector<double> distribution(const Sample& sample) {
    const Counts counts{sample};
    std::vector<double> p(static_cast<std::size_t>(counts.high()) + 1, 0.0);
    const auto mode = static_cast<std::size_t>(counts.mode());
    const auto low = static_cast<std::size_t>(counts.low());
    p[mode] = std::exp(counts.log_probability(counts.mode()));
    for (std::size_t k = mode; k + 1 < p.size(); ++k) {
        p[k + 1] = p[k] * counts.ratio(static_cast<double>(k));
    }
    for (std::size_t k = mode; k > low; --k) {
        p[k - 1] = p[k] / counts.ratio(static_cast<double>(k - 1));
    }
    return p;
}

std::vector<double> convolution(const std::vector<double>& a, const std::vector<double>& b) {
    std::vector<double> sum(a.size() + b.size() - 1, 0.0);
    for (std::size_t i = 0; i < a.size(); ++i) {
        for (std::size_t j = 0; j < b.size(); ++j) {
            sum[i + j] += a[i] * b[j];
        }
    }
    return sum;
}

double convolved_tail(std::span<const Sample> strata, std::uint32_t count) {
    std::vector<double> p{1.0};
    for (const Sample& stratum : strata) {
        if (stratum.drawn > 0) {
            p = convolution(p, distribution(stratum));
        }
    }
    double upper = 0.0;
    for (std::size_t k = p.size(); k-- > count;) {
        upper += p[k];
    }
    double lower = 0.0;
    for (std::size_t k = 0; k < std::min<std::size_t>(count, p.size()); ++k) {
        lower += p[k];
    }
    // The smaller of the two is exact to rounding; the other may have lost what is left of 1.
    return lower < upper ? 1.0 - lower : upper;
}

}  // namespace

double log_hypergeometric_tail(const Sample& sample, std::uint32_t at_least) {
    const Counts counts{sample};
    const double k = at_least;
    if (k <= counts.low()) {
        return 0.0;
    }
    if (k > counts.high()) {
        return -std::numeric_limits<double>::infinity();
    }
    if (k > counts.mode()) {
        return std::min(0.0, counts.log_probability(k) + std::log(counts.upward(k)));
    }
    const double below = k - 1.0;
    return std::log1p(
        -std::min(1.0, std::exp(counts.log_probability(below)) * counts.downward(below)));
}

double hypergeometric_tail(const Sample& sample, std::uint32_t at_least) {
    return std::exp(log_hypergeometric_tail(sample, at_least));
}

StratifiedTail stratified_tail(std::span<const Sample> strata, std::uint32_t count) {
    StratifiedTail tail;
    const Sample* only = nullptr;
    int sampled = 0;
    for (const Sample& s : strata) {
        if (s.drawn == 0) {
            continue;
        }
        ++sampled;
        only = &s;
        const double share = static_cast<double>(s.decayed) / s.poles;
        const double mean = s.drawn * share;
        tail.expected += mean;
        if (s.poles > 1) {
            tail.variance += mean * (1.0 - share) * (s.poles - s.drawn) / (s.poles - 1.0);
        }
    }
    if (tail.variance > 0.0) {
        tail.z = (count - tail.expected) / std::sqrt(tail.variance);
    }
    tail.p = sampled == 1 ? hypergeometric_tail(*only, count) : convolved_tail(strata, count);
    return tail;
}

}  // namespace linewood
