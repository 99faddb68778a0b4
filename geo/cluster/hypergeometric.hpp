#pragma once

#include <cstdint>
#include <optional>
#include <span>

namespace linewood {

/// A sample without replacement: `drawn` of `poles`, of which `decayed` are decayed.
/// @pre decayed <= poles, drawn <= poles
struct Sample {
    std::uint32_t poles = 0;
    std::uint32_t decayed = 0;
    std::uint32_t drawn = 0;
};

/// ln P(X >= at_least) of the number X of decayed poles in the sample (hypergeometric); minus
/// infinity where it cannot be. Probabilities by Loader's saddle point expansion (2000, "Fast and
/// accurate computation of binomial probabilities"), about 1e-13 relative, summed by recurrence.
double log_hypergeometric_tail(const Sample& sample, std::uint32_t at_least);

/// P(X >= at_least); without underflow down to 1e-300.
double hypergeometric_tail(const Sample& sample, std::uint32_t at_least);

/// The number of decayed poles in a window, where labels are permuted within strata: the sum of one
/// independent hypergeometric number a stratum.
struct StratifiedTail {
    double expected = 0.0;    ///< sum of n_s C_s / N_s
    double variance = 0.0;    ///< sum of n_s C_s/N_s (1 - C_s/N_s) (N_s - n_s) / (N_s - 1)
    std::optional<double> z;  ///< (count - expected) / sqrt(variance); absent where that is 0
    double p = 1.0;           ///< P(sum >= count), exact, by convolution
};
/// With one stratum, z is the Gi* of a 0/1 value.
StratifiedTail stratified_tail(std::span<const Sample> strata, std::uint32_t count);

}  // namespace linewood
