#pragma once

#include "geo/io/output_dataset.hpp"
#include "src/clusters/cluster_results.hpp"
#include "src/clusters/population.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// The layers of the output, in their order.
struct ClusterLayers {
    LayerWriter& clusters;
    LayerWriter& members;
    LayerWriter& scores;
    LayerWriter& rates;
    LayerWriter& groups;
    LayerWriter& findings;
    LayerWriter& run;
};

ClusterLayers lay_out_clusters(OutputDataset& dataset, const AssessedData& data);

/// Writes all but findings and run. @throws Interrupted, DataError
void write_clusters(const AssessedData& data,
                    const Population& population,
                    const ClusterJob& job,
                    const ClusterResults& results,
                    const ClusterLayers& out,
                    RunMonitor& monitor);

/// What to mind about a cluster, in words; empty where nothing.
std::string caution_of(const FoundCluster& cluster);

}  // namespace linewood
