#pragma once

#include <string>
#include <vector>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// `replace or stub`; `remaining strength under 65 %`.
std::string decayed_words(const ClusterJob& job);
/// `12.3 %`; `not known`
std::string percent_words(std::optional<double> share);
/// `0.003`, `1.2e-07`
std::string p_words(double p);

/// What was counted and tested, against what: a sentence each.
std::vector<std::string> tested_words(const AssessedData& data,
                                      const Population& population,
                                      const ClusterJob& job,
                                      const ClusterResults& results);
/// What came of it.
std::vector<std::string> found_words(const AssessedData& data,
                                     const Population& population,
                                     const ClusterJob& job,
                                     const ClusterResults& results);
/// What none of it can say.
std::vector<std::string> limits_words(const AssessedData& data,
                                      const Population& population,
                                      const ClusterJob& job,
                                      const ClusterResults& results);

}  // namespace linewood
