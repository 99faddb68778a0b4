#include "assess/condition/section_groups.hpp"

#include <algorithm>
#include <cmath>

#include "assess/condition/rounding.hpp"

namespace linewood {

std::vector<SectionGroup> group_by_height(std::span<const Defect> defects,
                                          std::span<const std::size_t> chosen,
                                          Length reach) {
    const auto height = [&](std::size_t i) { return defects[i].height.value_or(Length{}); };
    std::vector<SectionGroup> groups(1);
    std::vector<std::size_t> others;
    for (const std::size_t i : chosen) {
        const Length from_groundline = Length::metres(std::fabs(height(i).metres()));
        const bool at_groundline = !is_above(from_groundline, reach);
        (at_groundline ? groups.front().defects : others).push_back(i);
    }
    std::stable_sort(others.begin(), others.end(), [&](std::size_t a, std::size_t b) {
        return height(a) < height(b);
    });
    // None reaches across the groundline: what is within `reach` of it has been taken out.
    for (const std::size_t i : others) {
        const bool none_yet = groups.size() == 1;
        if (none_yet || is_above(height(i), groups.back().height + reach)) {
            groups.push_back({height(i), {}});
        }
        groups.back().defects.push_back(i);
    }
    std::stable_sort(groups.begin(), groups.end(), [](const auto& a, const auto& b) {
        return a.height < b.height;
    });
    return groups;
}

}  // namespace linewood
