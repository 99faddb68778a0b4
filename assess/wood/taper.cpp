#include "assess/wood/taper.hpp"

#include <cassert>
#include <cmath>

#include "assess/wood/dimension_table.hpp"

namespace linewood {

Taper Taper::from_table(Length length,
                        Length setting_depth,
                        Length girth_at_6ft,
                        Length top_girth) {
    assert(setting_depth >= Length{} && setting_depth < length && length > kTableHeight);
    assert(top_girth > Length{} && girth_at_6ft >= top_girth);
    Taper taper;
    taper.slope_ = (girth_at_6ft - top_girth) / (length - kTableHeight);
    taper.groundline_girth_ = girth_at_6ft - (setting_depth - kTableHeight) * taper.slope_;
    taper.tip_height_ = length - setting_depth;
    return taper;
}

Taper Taper::average(double slope) {
    assert(slope >= 0.0 && std::isfinite(slope));
    Taper taper;
    taper.slope_ = slope;
    return taper;
}

Maybe<Length> Taper::girth_at(Length height) const {
    if (!has_girth()) {
        return {};
    }
    const Length h = height < *tip_height_ ? height : *tip_height_;
    return *groundline_girth_ - h * slope_;
}

Maybe<Length> Taper::carry(Length girth, Length from, Length to) const {
    if (from == to) {
        return girth;
    }
    if (has_girth()) {
        return girth * (*girth_at(to) / *girth_at(from));
    }
    const Length carried = girth - (to - from) * slope_;
    if (carried <= Length{}) {
        return {};
    }
    return carried;
}

}  // namespace linewood
