#pragma once

#include <cmath>

namespace linewood::polar {

struct Slope {
    double value;
    double derivative;
};

/// The root of `f` between `below` and `above`, where f(below) <= 0 <= f(above) (either order on the
/// line): Newton steps, halving the bracket wherever a step would leave it or shrink it too little.
/// Exact to the last few bits of a simple root; at worst some 60 halvings.
/// @param f gives value and derivative as a Slope.
template <typename Function>
double bracketed_root(const Function& f, double below, double above) {
    constexpr int kMost = 100;
    constexpr double kClose = 1e-15;
    double at = 0.5 * (below + above);
    double last_step = std::abs(above - below);
    for (int i = 0; i < kMost; ++i) {
        const Slope s = f(at);
        if (s.value == 0.0) {
            return at;
        }
        (s.value < 0.0 ? below : above) = at;
        const double next = at - s.value / s.derivative;
        // Written so that a division by a vanishing derivative (inf, nan) also halves.
        const bool inside = (next - below) * (next - above) < 0.0;
        const bool fast = std::abs(next - at) <= 0.5 * last_step;
        const double chosen = inside && fast ? next : 0.5 * (below + above);
        last_step = std::abs(chosen - at);
        at = chosen;
        if (last_step <= kClose * (1.0 + std::abs(at))) {
            break;
        }
    }
    return at;
}

}  // namespace linewood::polar
