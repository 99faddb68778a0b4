#pragma once

#include <string>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// The search as a page to read and print: map, rates with their intervals, strengths, and in words what was
/// tested, against what, and what it cannot say. One file, no scripts, nothing fetched.
std::string cluster_page(const AssessedData& data,
                         const Population& population,
                         const ClusterJob& job,
                         const ClusterResults& results);

}  // namespace linewood
