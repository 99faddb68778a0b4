#pragma once

#include <cstdint>

#include "assess/condition/criteria.hpp"
#include "assess/condition/reason.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"

namespace linewood {

/// A section for which a size is looked for: one defect alone, at the groundline of a pole that has its
/// original girth everywhere else.
struct LimitCase {
    Length original;     ///< girth of the sound pole
    LineDirection line;  ///< angles off the line are counted from its axis, from north without one
    const Criteria& criteria;
    Length resolution;  ///< sizes are multiples of it
};

enum class LimitKind : std::uint8_t {
    limit,  ///< sizes up to (or down to) this pass
    any,    ///< every size that fits the pole passes
    none,   ///< no size passes: what is given fails by itself
};

/// The last size that passes before the first that fails, going from the harmless size on.
///
/// Strength is not monotone in everything (a pocket at an angle to the line, wider than about 0.7 of
/// the diameter, may gain by growing), so sizes are tried in steps of 0.02 in; the first failure is
/// bracketed to 1e-5 in. A stretch of failing sizes narrower than a step can be missed: there the
/// strength is under its limit by less than 2e-5 of the sound section's.
struct SizeLimit {
    LimitKind kind = LimitKind::none;
    /// A multiple of the resolution, on the safe side. It was run once more and passes. Of `any` the
    /// last size tried, of `none` the first.
    Length size;
    /// The limits that fail just beyond, or, of `none`, at once. Empty for `any`.
    ReasonSet fails_by;
};

// What passes is what `assess_pole` lets pass; nothing is decided here.
// @pre original > 0, resolution > 0; depth and shell over 0 and at most the radius

/// Least present girth without any defect, from the original girth down to the least that is no doubt.
SizeLimit least_girth(const LimitCase& c);
/// Least effective shell all round, from the radius down to 0.
SizeLimit least_shell(const LimitCase& c);
/// Widest external pocket of that depth, its middle that far off the line's axis; up to the diameter.
SizeLimit widest_pocket(const LimitCase& c, Length depth, Angle off_axis);
/// Widest pocket as deep as an even shell: its mouth opens the void behind. Up to the diameter.
SizeLimit widest_mouth(const LimitCase& c, Length shell, Angle off_axis);

}  // namespace linewood
