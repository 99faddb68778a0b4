#pragma once

#include "assess/units/length.hpp"

namespace linewood {

/// Lengths that arrive in other units, or as a difference of two, differ in their last digits. This
/// much, a thousandth of a micrometre, is no length.
inline constexpr Length kRounding = Length::metres(1e-9);

/// Whether `a` is over `b` by more than rounding. Any finite lengths.
inline bool is_above(Length a, Length b) { return a > b + kRounding; }

}  // namespace linewood
