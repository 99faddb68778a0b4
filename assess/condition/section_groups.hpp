#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "assess/record/defect.hpp"
#include "assess/units/length.hpp"

namespace linewood {

/// The defects that share a section.
struct SectionGroup {
    Length height;
    std::vector<std::size_t> defects;  ///< positions in the pole's defects
};

/// One group at the groundline, always, with every defect within `reach` of it (inclusive); the
/// others in order of height, a new group starting where a defect is more than `reach` above the
/// first of its group. A group's height is that of its lowest defect; the groundline's is 0.
/// @param chosen positions in `defects` of those to sort. @return lowest first.
std::vector<SectionGroup> group_by_height(std::span<const Defect> defects,
                                          std::span<const std::size_t> chosen,
                                          Length reach);

}  // namespace linewood
