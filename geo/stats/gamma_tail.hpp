#pragma once

namespace linewood {

/// The regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 - P(a, x); the smaller of the two to about
/// 1e-12 relative. @pre a > 0
double gamma_lower(double a, double x);
double gamma_upper(double a, double x);

/// P(Z >= z) of a Z with mean 0, deviation 1 and that skewness, distributed by Pearson's type III: a gamma distribution
/// moved, turned round where the skewness is negative. That of a skewness under 0.005 is normal.
double skewed_upper(double z, double skewness);

}  // namespace linewood
