#pragma once

#include <optional>
#include <span>
#include <vector>

namespace linewood {

enum class FalseDiscovery {
    /// Benjamini & Hochberg 1995 (J. R. Stat. Soc. B 57:289-300): tests independent, or positively
    /// dependent as overlapping neighbourhoods are.
    benjamini_hochberg,
    /// Benjamini & Yekutieli 2001 (Ann. Stat. 29:1165-1188): any dependence, at the cost of power.
    benjamini_yekutieli,
};

/// Adjusted p of each test: those at most q are the discoveries of which a share of q is expected
/// to be false. Tests without p are none: they stay absent and are not counted.
std::vector<std::optional<double>> adjusted_p(std::span<const std::optional<double>> p,
                                              FalseDiscovery method);

}  // namespace linewood
