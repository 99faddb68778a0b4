#pragma once

#include <string_view>
#include <vector>

#include "assess/units/angle.hpp"
#include "assess/units/length.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

// Lists of sizes as people type them: `30,36,42`, or `30:60:3` for 30 to 60 in steps of 3, or both
// (`30:60:3,64`). Given back in rising order, each once; at most 500. Everything here throws JobError
// naming the option, what stood there and what to type.

/// Lengths as typed_length takes them, from `least` to `most` in the unit of girths.
std::vector<Length> typed_lengths(
    std::string_view option, std::string_view text, UnitSystem units, double least, double most);

/// Degrees from 0 to 90.
std::vector<Angle> typed_angles(std::string_view option, std::string_view text);

}  // namespace linewood
