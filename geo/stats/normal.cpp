#include "geo/stats/normal.hpp"

#include <cassert>
#include <cmath>

namespace linewood {

double normal_two_sided(double z) { return std::erfc(std::abs(z) / std::sqrt(2.0)); }

double normal_upper(double z) { return 0.5 * std::erfc(z / std::sqrt(2.0)); }

double normal_quantile(double p) {
    assert(p > 0.0 && p < 1.0);
    // By halving: seldom asked, and right in both tails.
    const double tail = p < 0.5 ? p : 1.0 - p;
    double low = 0.0;
    double high = 39.0;
    for (int i = 0; i < 70; ++i) {
        const double middle = 0.5 * (low + high);
        (normal_upper(middle) > tail ? low : high) = middle;
    }
    const double z = 0.5 * (low + high);
    return p < 0.5 ? -z : z;
}

}  // namespace linewood
