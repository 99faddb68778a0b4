#pragma once

#include "assess/units/length.hpp"

namespace linewood {

/// Bending moment that a sound round section of girth C resists, in newton metres:
///     M = f C^3 / (32 pi^2)
/// (f in pascals). In pounds and inches the trade writes 0.000264 f C^3 ft-lb; the exact factor is
/// 0.00026386. @pre fibre_stress_pa >= 0, girth >= 0.
double resisting_moment_nm(double fibre_stress_pa, Length girth);

/// The girth of a sound round section that keeps a share of the strength of one of girth `original`:
///     C = C0 share^(1/3).
/// Source: Bureau of Reclamation FIST 4-6 (1992), Table 1, reduced circumference = original
/// (SF/4)^(1/3). @pre share >= 0.
Length girth_keeping(double share, Length original);

/// Pounds per square inch in pascals: 6894.757293168361 (from 1 lbf = 4.4482216152605 N, 1 in = 25.4 mm).
inline constexpr double kPascalsPerPsi = 4.4482216152605 / (0.0254 * 0.0254);
inline constexpr double kNewtonsPerPound = 4.4482216152605;

}  // namespace linewood
