#include "assess/wood/round_strength.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace linewood {

double resisting_moment_nm(double fibre_stress_pa, Length girth) {
    assert(fibre_stress_pa >= 0.0 && girth >= Length{});
    const double C = girth.metres();
    return fibre_stress_pa * C * C * C / (32.0 * std::numbers::pi * std::numbers::pi);
}

Length girth_keeping(double share, Length original) {
    assert(share >= 0.0);
    return original * std::cbrt(share);
}

}  // namespace linewood
