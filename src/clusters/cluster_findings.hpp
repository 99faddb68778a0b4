#pragma once

#include <array>

#include "assess/condition/condition_findings.hpp"

namespace linewood::finding {

inline constexpr FindingKind kStratumOfOne{"stratum_of_one",
                                           Severity::warning,
                                           "poles that are the only one of their stratum: there is "
                                           "nothing to hold them against, so that no test "
                                           "says anything of them"};

inline constexpr std::array kClusterKinds{kStratumOfOne};

}  // namespace linewood::finding
