#pragma once

#include <vector>

#include "assess/limits/size_limit.hpp"

namespace linewood {

/// The sizes for which limits are tabled. An empty list leaves its tables out.
struct LimitRows {
    std::vector<Length> depths;  ///< of external pockets
    std::vector<Length> shells;  ///< effective, behind which a mouth opens the void
    std::vector<Angle> angles;   ///< off the line's axis
};

/// A limit for each angle, at one depth or shell.
struct LimitRow {
    Length size;
    std::vector<SizeLimit> by_angle;
};

/// All limits of one original girth.
struct GirthLimits {
    Length original;
    SizeLimit girth;
    SizeLimit shell;
    std::vector<LimitRow> pockets;  ///< depths over the radius are left out
    std::vector<LimitRow> mouths;   ///< shells over the radius are left out
};

/// Cost: up to 1000 assessments of a section for each cell, 1 ms or so.
GirthLimits solve_limits(const LimitCase& c, const LimitRows& rows);

}  // namespace linewood
