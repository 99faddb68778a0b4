#pragma once

#include <array>

namespace linewood {

/// One line of the World Magnetic Model's coefficient file: Schmidt semi-normalised Gauss
/// coefficients at the model's epoch in nT, and their yearly change in nT a year.
struct GaussCoefficient {
    int n, m;
    double g, h, g_dot, h_dot;
};

inline constexpr double kMagneticEpoch = 2025.0;
inline constexpr double kMagneticEnd = 2030.0;
inline constexpr int kMagneticDegree = 12;

/// All 90 lines, by degree n and order m.
extern const std::array<GaussCoefficient, 90> kMagneticModel2025;

}  // namespace linewood
