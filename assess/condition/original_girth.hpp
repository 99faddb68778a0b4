#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "assess/record/finding.hpp"
#include "assess/record/inspection.hpp"
#include "assess/record/pole.hpp"
#include "assess/units/length.hpp"
#include "assess/units/maybe.hpp"
#include "assess/wood/table_girth.hpp"
#include "assess/wood/taper.hpp"

namespace linewood {

/// Where the original girth at the groundline came from.
enum class OriginalSource : std::uint8_t {
    none,
    measured,        ///< at the inspection, at the groundline or carried there by the taper
    recorded,        ///< in the pole's record
    tables,          ///< the least of its species, class and length
    present,         ///< the present girth, where the criteria allow it
    measured_above,  ///< at the inspection, at another height, used as it is for want of a taper
};
/// The code written to the output; empty for `none`.
std::string_view name_of(OriginalSource s);

/// The girth of the sound pole at its groundline, and how it runs with height.
struct OriginalGirth {
    Maybe<Length> groundline;
    OriginalSource source = OriginalSource::none;
    std::optional<Taper> taper;

    /// The girth at `height` of a sound pole whose girth at the groundline is `at_groundline`;
    /// that girth itself where no taper is known.
    Length carried_to(Length height, Length at_groundline) const;
    /// Whether a taper tells the girth there; otherwise carried_to() gives it back unchanged.
    bool carries_to(Length height, Length at_groundline) const;
};

/// Measured at the inspection, else recorded on the pole, else from the tables. `inspection` may be
/// null. Doubts go to `findings` (may be null): a length or class without a table value where one
/// was needed, a girth that had to be used at another height unchanged.
OriginalGirth find_original_girth(const Pole& pole,
                                  const Inspection* inspection,
                                  const TableLookup& lookup,
                                  Findings* findings);

}  // namespace linewood
