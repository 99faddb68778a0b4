#include "assess/condition/section_groups.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {
namespace {

/// Lengths that arrive in other units differ in their last digits; this much is no height.
constexpr Length kNoHeight = Length::metres(1e-9);

}  // namespace

std::vector<SectionGroup> group_by_height(std::span<const Defect> defects,
                                          std::span<const std::size_t> chosen,
                                          Length reach) {
    const auto height = [&](std::size_t i) { return defects[i].height.value_or(Length{}); };
    std::vector<SectionGroup> groups(1);
    std::vector<std::size_t> others;
    for (const std::size_t i : chosen) {
        const bool at_groundline = std::fabs(height(i).metres()) <= (reach + kNoHeight).metres();
        (at_groundline ? groups.front().defects : others).push_back(i);
    }
    if (others.empty()) {
        return groups;
    }
    std::stable_sort(others.begin(), others.end(), [&](std::size_t a, std::size_t b) {
        return height(a) < height(b);
    });
    // The groundline stands between those below and those above, so no group reaches across it.
    const Length* first = nullptr;
    Length lowest;
    for (const std::size_t i : others) {
        const Length h = height(i);
        const bool crosses = first != nullptr && lowest < Length{} && h > Length{};
        if (first == nullptr || crosses || h > lowest + reach + kNoHeight) {
            lowest = h;
            first = &lowest;
            groups.push_back({h, {}});
        }
        groups.back().defects.push_back(i);
    }
    std::stable_sort(groups.begin(), groups.end(), [](const auto& a, const auto& b) {
        return a.height < b.height;
    });
    return groups;
}

}  // namespace linewood
