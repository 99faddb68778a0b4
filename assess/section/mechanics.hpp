#pragma once

#include "assess/section/outline.hpp"

namespace linewood {

/// What is known of a remaining section once its shape is worked out: the result of the two ways to
/// get there (one_pocket.hpp, sweep.hpp), and what RemainingSection answers from.
struct Mechanics {
    double area = 0.0;  ///< m^2, all pieces
    int pieces = 0;
    double lost_share = 0.0;
    bool acts_together = false;
    Outline outline;  ///< of what carries
    int carrying =
        -1;  ///< the piece that carries, as polar::Pieces numbers them; -1 = all there is
};

}  // namespace linewood
