#pragma once

#include <cstdint>

#include "assess/units/angle.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// A pole's role in its line.
enum class LineRole : std::uint8_t { tangent, angle, dead_end, junction, isolated };

/// Where the direction came from.
enum class LineSource : std::uint8_t { spans, given, nearest_line, none };

/// The line at a pole. `axis` is absent where the pole has none (isolated, or a junction without a
/// straight pair); `deflection` is the trade's line angle, 0 for straight on, absent where no pair
/// of spans gives one.
struct LineDirection {
    Maybe<Axis> axis;
    Maybe<Angle> deflection;
    LineRole role = LineRole::isolated;
    LineSource source = LineSource::none;
};

}  // namespace linewood
