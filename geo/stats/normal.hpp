#pragma once

namespace linewood {

/// P(|Z| >= |z|) of a standard normal Z.
double normal_two_sided(double z);
/// P(Z >= z).
double normal_upper(double z);
/// The z with P(Z <= z) = p, to about 1e-15 relative. @pre 0 < p < 1
double normal_quantile(double p);

}  // namespace linewood
