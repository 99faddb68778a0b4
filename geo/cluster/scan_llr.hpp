#pragma once

#include <cstdint>

namespace linewood {

/// ln of the likelihood ratio of a window with more decayed poles than its share, against none
/// (Kulldorff & Nagarwalla 1995; Kulldorff 1997, Commun. Stat. 26:1481-1496); 0 where it has not more.
/// 0 ln 0 = 0. Grows with `decayed`, falls with `poles` or `expected`.

/// Bernoulli: c of n poles decayed within, C of N in all:
///     c ln(c/n) + (n-c) ln(1-c/n) + (C-c) ln((C-c)/(N-n)) + (N-n-C+c) ln(1-(C-c)/(N-n))
///     - C ln(C/N) - (N-C) ln(1-C/N)
double bernoulli_llr(std::int64_t decayed,
                     std::int64_t poles,
                     std::int64_t all_decayed,
                     std::int64_t all_poles);

/// Poisson: c decayed where mu are expected, C in all: c ln(c/mu) + (C-c) ln((C-c)/(C-mu)).
double poisson_llr(std::int64_t decayed, double expected, std::int64_t all_decayed);

}  // namespace linewood
