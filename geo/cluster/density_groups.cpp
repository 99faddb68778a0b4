#include "geo/cluster/density_groups.hpp"

#include <cassert>

namespace linewood {
namespace {

/// Gives all core poles that can be reached from `start` its number.
void flood(std::uint32_t start,
           std::uint32_t number,
           const NeighbourRows& within,
           DensityGroups& groups) {
    std::vector<std::uint32_t> open{start};
    groups.group[start] = number;
    while (!open.empty()) {
        const std::uint32_t pole = open.back();
        open.pop_back();
        for (const Near& near : within.row(pole)) {
            if (groups.core[near.pole] && groups.group[near.pole] == 0) {
                groups.group[near.pole] = number;
                open.push_back(near.pole);
            }
        }
    }
}

/// The group of the nearest core pole; 0 where there is none.
std::uint32_t adopted(std::uint32_t pole,
                      const NeighbourRows& within,
                      const DensityGroups& groups) {
    std::uint32_t best = 0;
    std::int64_t nearest = 0;
    for (const Near& near : within.row(pole)) {
        if (!groups.core[near.pole]) {
            continue;
        }
        const std::uint32_t group = groups.group[near.pole];
        if (best == 0 || near.um < nearest || (near.um == nearest && group < best)) {
            best = group;
            nearest = near.um;
        }
    }
    return best;
}

}  // namespace

DensityGroups density_groups(std::span<const std::uint8_t> grouped,
                             const NeighbourRows& within,
                             std::size_t min_poles) {
    assert(grouped.size() == within.size());
    const auto count = static_cast<std::uint32_t>(grouped.size());
    DensityGroups groups;
    groups.group.assign(count, 0);
    groups.core.assign(count, false);
    groups.neighbours.assign(count, 0);
    for (std::uint32_t pole = 0; pole < count; ++pole) {
        if (grouped[pole] == 0) {
            continue;
        }
        std::uint32_t near_ones = 1;
        for (const Near& near : within.row(pole)) {
            near_ones += grouped[near.pole] != 0 ? 1U : 0U;
        }
        groups.neighbours[pole] = near_ones;
        groups.core[pole] = near_ones >= min_poles;
    }
    for (std::uint32_t pole = 0; pole < count; ++pole) {
        if (groups.core[pole] && groups.group[pole] == 0) {
            flood(pole, ++groups.count, within, groups);
        }
    }
    for (std::uint32_t pole = 0; pole < count; ++pole) {
        if (grouped[pole] != 0 && !groups.core[pole]) {
            groups.group[pole] = adopted(pole, within, groups);
        }
    }
    return groups;
}

}  // namespace linewood
