#pragma once

#include <cstdint>
#include <optional>

#include "assess/units/date.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"

namespace linewood {

/// The most that was done, least first.
enum class InspectionMethod : std::uint8_t { not_recorded, visual, hammer, bore, excavated };

enum class AbovegroundDamage : std::uint8_t { not_recorded, none, minor, extensive };

/// Yes, no, or not recorded, in one byte.
enum class Answer : std::uint8_t { not_recorded, no, yes };

/// One visit to one pole, as recorded.
struct Inspection {
    std::int64_t fid = -1;  ///< feature it came from; -1 where the tool made it from dated defects
    Maybe<Length> original_circumference;  ///< measured on sound wood
    Maybe<Length> original_height;         ///< where; absent = groundline
    Maybe<Length> present_circumference;   ///< at the groundline
    std::optional<Date> inspected_on;
    InspectionMethod method = InspectionMethod::not_recorded;
    AbovegroundDamage damage = AbovegroundDamage::not_recorded;
    Answer climb_safe = Answer::not_recorded;
    Answer decay_below_excavation = Answer::not_recorded;
    Answer treated = Answer::not_recorded;
    /// A value was recorded that could not be read: it counts as missing, and nothing passes on that.
    bool unreadable = false;
    /// A date was recorded that could not be read: the visit may be the latest, and counts as one.
    bool date_unreadable = false;
};

}  // namespace linewood
