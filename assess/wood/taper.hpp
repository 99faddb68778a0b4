#pragma once

#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// How the girth of the sound pole runs with height. Heights are above the groundline, down negative.
/// Two forms:
/// - from a table row: T is straight between the tip (table top girth) and 6 ft from the butt (table
///   girth), carried straight on below; above the tip it stays at the tip's girth;
/// - from a species' average taper: a slope without a girth of its own, for scaling only.
/// Sixteen bytes more than two numbers; every call is a few flops.
class Taper {
public:
    /// @pre setting_depth in [0, length), length > 6 ft, girth_at_6ft >= top_girth > 0.
    static Taper from_table(Length length,
                            Length setting_depth,
                            Length girth_at_6ft,
                            Length top_girth);
    /// @param slope girth lost for each unit of height. @pre slope >= 0, finite.
    static Taper average(double slope);

    bool has_girth() const { return groundline_girth_.has_value(); }
    /// T at a height. Absent for an average taper.
    Maybe<Length> girth_at(Length height) const;
    /// T at the groundline. Absent for an average taper.
    Maybe<Length> groundline_girth() const { return groundline_girth_; }
    double slope() const { return slope_; }

    /// A girth known at one height, carried to another: by a table taper `girth x T(to) / T(from)`,
    /// by an average taper `girth - slope x (to - from)`. The same height gives the girth back
    /// unchanged. Absent where an average taper would leave no girth at all.
    Maybe<Length> carry(Length girth, Length from, Length to) const;

private:
    Maybe<Length> groundline_girth_;
    Maybe<Length> tip_height_;
    double slope_ = 0.0;
};

}  // namespace linewood
