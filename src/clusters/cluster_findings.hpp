#pragma once

#include <array>

#include "assess/condition/condition_findings.hpp"

namespace linewood::finding {

inline constexpr FindingKind kStratumOfOne{"stratum_of_one",
                                           Severity::warning,
                                           "poles that are the only one of their stratum: there is "
                                           "nothing to hold them against, so that no test "
                                           "says anything of them"};

inline constexpr FindingKind kNeighbourhoodsSmall{
    "neighbourhoods_small",
    Severity::warning,
    "half of the neighbourhoods have fewer than 8 poles: most strengths are not tested around a "
    "pole, and little is found where they are"};
inline constexpr FindingKind kNeighbourhoodsLarge{
    "neighbourhoods_large",
    Severity::warning,
    "half of the neighbourhoods have more than 100 poles: what is bad in a small place is lost in "
    "them"};

inline constexpr std::array kClusterKinds{
    kStratumOfOne, kNeighbourhoodsSmall, kNeighbourhoodsLarge};

}  // namespace linewood::finding
