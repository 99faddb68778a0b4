#include "geo/cluster/scan_llr.hpp"

#include <cmath>

namespace linewood {
namespace {

/// x ln(x/y), 0 for x = 0.
double term(double x, double y) { return x > 0.0 ? x * std::log(x / y) : 0.0; }

}  // namespace

double bernoulli_llr(std::int64_t decayed,
                     std::int64_t poles,
                     std::int64_t all_decayed,
                     std::int64_t all_poles) {
    if (decayed * all_poles <= all_decayed * poles) {
        return 0.0;
    }
    const auto c = static_cast<double>(decayed);
    const auto n = static_cast<double>(poles);
    const auto rate = static_cast<double>(all_decayed) / static_cast<double>(all_poles);
    const auto rest = static_cast<double>(all_decayed - decayed);
    const auto outside = static_cast<double>(all_poles - poles);
    return term(c, n * rate) + term(n - c, n * (1.0 - rate)) + term(rest, outside * rate) +
           term(outside - rest, outside * (1.0 - rate));
}

double poisson_llr(std::int64_t decayed, double expected, std::int64_t all_decayed) {
    const auto c = static_cast<double>(decayed);
    const auto all = static_cast<double>(all_decayed);
    if (!(c > expected) || !(expected > 0.0)) {
        return 0.0;
    }
    return term(c, expected) + term(all - c, all - expected);
}

}  // namespace linewood
