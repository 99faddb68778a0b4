#pragma once

#include <vector>

#include "assess/section/shape.hpp"

namespace linewood {

/// A place in a section, metres from the centre of its present outline.
struct PlanPoint {
    double east = 0.0;
    double north = 0.0;
};
using PlanRing = std::vector<PlanPoint>;

/// One piece of what remains. Its rings are closed, without the first point repeated; wood lies on one
/// and the same side of every ring (fill by non-zero or even-odd rule alike).
struct DrawnPiece {
    std::vector<PlanRing> rings;
    bool carries = true;
    double area = 0.0;  ///< m^2, exact, not of the sampled rings
};

/// What remains of a section, piece by piece: the very bands RemainingSection works with, so the
/// drawing cannot disagree with the figures. Corners are exact, curves sampled in steps of at most two
/// degrees and of a fiftieth of the radius in or out. Scraps that RemainingSection takes for no piece are left out. Nothing left: no pieces.
std::vector<DrawnPiece> remaining_outline(const SectionShape& shape);

/// What one pocket takes away, wood or not: the closed outline of
/// {|p.t| <= w/2, p.n >= min(0, R - d), |p| >= R - d} in the disc.
/// @pre shape.radius > 0
PlanRing pocket_outline(const SectionShape& shape, const Pocket& pocket);

/// The void r(a) = R - t(a), sampled likewise, with a point at each reading; empty where there is no void.
PlanRing void_outline(const SectionShape& shape);

}  // namespace linewood
