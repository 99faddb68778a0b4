#pragma once

#include <cstdint>

#include "assess/record/line_direction.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// The classes of the trade, stoutest first. There is no class 8.
enum class PoleClass : std::uint8_t {
    h6,
    h5,
    h4,
    h3,
    h2,
    h1,
    c1,
    c2,
    c3,
    c4,
    c5,
    c6,
    c7,
    c9,
    c10,
};
inline constexpr int kPoleClassCount = 15;

/// Position of a species in the wood tables in use (see assess/wood/species.hpp).
using SpeciesIndex = std::uint16_t;
inline constexpr SpeciesIndex kNoSpecies = 0xFFFF;

/// A pole as its record says. Absent means "not recorded", never zero.
struct Pole {
    Maybe<Length> length;                  ///< butt to tip
    Maybe<Length> setting_depth;           ///< butt to groundline
    Maybe<Length> recorded_circumference;  ///< original, at the groundline, from the records
    SpeciesIndex species = kNoSpecies;
    bool has_class = false;
    PoleClass pole_class = PoleClass::c4;  ///< meaningful only with `has_class`
    bool is_wood = true;                   ///< `material` absent counts as wood
    bool reinforced = false;
    bool unreadable = false;  ///< as Inspection::unreadable
};

}  // namespace linewood
