#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"

namespace linewood {

/// Draws outlines around sets of poles along the spans between them.
class Outliner {
public:
    Outliner(const AssessedData& data, const Population& population);

    /// Around nodes. @param hull gaps between lines of the set are closed, up to four spans wide.
    Polygons around(std::span<const std::uint32_t> nodes, bool hull);
    /// Outlines of clusters of one kind, best first: each is cut where one before it is.
    void outline(std::vector<FoundCluster>& clusters);

private:
    const AssessedData& data_;
    const Population& population_;
    double margin_m_;
    std::vector<std::size_t> first_edge_;  ///< of each node; edges are sorted by their first
    std::vector<bool> inside_;
};

}  // namespace linewood
