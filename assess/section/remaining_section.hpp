#pragma once

#include <memory>

#include "assess/section/shape.hpp"

namespace linewood {

/// Interface agreed with the users of this room; the header text is completed with the code.
struct WeakestDirection {
    double modulus = 0.0;  ///< m^3, the least over all load directions
    Maybe<Axis> axis;      ///< absent where all directions agree to 1e-9
};

}  // namespace linewood
