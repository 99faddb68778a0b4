#pragma once

#include <vector>

#include "assess/units/length.hpp"

namespace linewood {

/// Heights over the groundline to pixels down the page: straight between knots, so that the zone around
/// the groundline can be drawn larger than the rest.
class HeightScale {
public:
    struct Knot {
        Length height;
        double y = 0.0;
    };

    /// What is to be shown: ends of the drawing, and the part of it that is drawn larger.
    struct Range {
        Length low;
        Length focus_low;
        Length focus_high;
        Length high;
    };

    /// @pre low <= focus_low < focus_high <= high; top < bottom.
    /// A part of no length takes no room.
    HeightScale(const Range& range, double top, double bottom);

    /// Heights beyond the ends are drawn at the ends.
    double y(Length height) const;
    /// Heights where the scale changes by more than a tenth, for break marks.
    std::vector<Length> breaks() const;
    const std::vector<Knot>& knots() const { return knots_; }

    /// Round heights to label, lowest first, at least `gap` pixels apart and clear of the breaks, 0
    /// among them where it is shown.
    /// @param unit one ft or one m
    std::vector<Length> ticks(Length unit, double gap) const;

private:
    std::vector<Knot> knots_;  ///< highest first, no two at one height
};

/// Places moved apart along a line so that neighbours are at least `gap` apart, within [low, high] as
/// far as there is room, in the order given. @pre wanted is sorted.
std::vector<double> spread_along(std::vector<double> wanted, double gap, double low, double high);

}  // namespace linewood
