#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "assess/record/defect.hpp"
#include "assess/record/finding.hpp"
#include "assess/record/inspection.hpp"

namespace linewood {

/// One inspection of one pole with the defects that belong to it.
struct Visit {
    Inspection inspection;
    std::vector<std::size_t> defects;  ///< positions in the pole's defects
};

/// Joins a pole's defects to its inspections.
///
/// - A dated defect joins every inspection of its date; else the nearest within `join_days` (of two
///   as near, the later); else, where it is newer than all, it is an inspection of its own; else it
///   is left out with a finding.
/// - An undated defect joins every inspection that may be the latest. Where there is no inspection at
///   all, undated defects make one, undated.
/// - Inspections without a date count as the oldest. One whose date cannot be read may be any: it counts as
///   the latest, beside those of the latest date, and a dated defect that no inspection of its date takes joins it too.
///
/// @return oldest first, those whose date cannot be read last; those of one day in the order given. Findings go
///         to `findings`, if not null.
std::vector<Visit> join_visits(std::span<const Inspection> inspections,
                               std::span<const Defect> defects,
                               int join_days,
                               Findings* findings);

/// Where in the visits, in the order of join_visits(), those begin that may be the latest: all of the latest
/// date, and all whose date cannot be read; else the undated ones.
std::size_t first_of_latest(std::span<const Visit> visits);

}  // namespace linewood
