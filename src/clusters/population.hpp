#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geo/cluster/neighbour_rows.hpp"
#include "geo/cluster/neighbour_source.hpp"
#include "geo/cluster/span_edges.hpp"
#include "geo/crs/point.hpp"
#include "src/assessed/assessed_data.hpp"
#include "src/job/cluster_job.hpp"

namespace linewood {

/// Who is counted. Nodes are the poles that have an id of their own, in the order of the ids: whatever the
/// order of the layer, what is computed is the same. Counted are those of them that were inspected, have a verdict (or,
/// where it is asked for, a strength) and a place: a pole nobody looked at is not a sound one.
struct Population {
    std::vector<std::uint32_t> pole_of;    ///< of each node, its index in the data
    std::vector<std::uint32_t> node_of;    ///< of each pole; kNoNode where it is none
    std::vector<SpanEdge> edges;           ///< between nodes, sorted
    std::vector<std::uint32_t> edge_span;  ///< of each edge, its index in the data

    std::vector<std::uint32_t> counted;  ///< node of each
    std::vector<std::uint8_t> decayed;   ///< of each counted pole
    std::vector<std::uint32_t> stratum;  ///< of each counted pole; empty: one for all
    std::vector<std::string> strata;     ///< their names
    std::vector<Point> places;           ///< of each counted pole, metres

    std::uint32_t decayed_count = 0;
    std::int64_t without_verdict =
        0;                           ///< inspected, dated or not, and something needed was missing
    std::int64_t not_inspected = 0;  ///< no inspection, or not wood
    std::int64_t without_place = 0;  ///< counted but for their place
    std::int64_t without_strength = 0;  ///< counted but for their strength, where that is asked for
    /// Counted, though their strength is not known: their neighbours' strengths are scored without them.
    std::int64_t counted_without_strength = 0;
    std::int64_t repeated = 0;  ///< rows of an id that came before

    std::int64_t alone = 0;  ///< counted, and the only one of their stratum
    /// Some stratum has decayed poles and sound ones, so that chance can deal them otherwise.
    bool can_vary = false;

    static constexpr std::uint32_t kNoNode = 0xFFFFFFFF;

    std::uint32_t pole(std::size_t counted_pole) const { return pole_of[counted[counted_pole]]; }
    double rate() const;
    /// The middle of all span lengths; 0 where there are none.
    double median_span_m() const;
};

/// The columns that the strata need.
std::vector<std::string> strata_columns(const ClusterJob& job);

/// Whether a pole is one of those looked for. @pre it is counted
bool is_decayed(const AssessedData& data, const ClusterJob& job, std::uint32_t pole);

/// @throws JobError where a value that is to be banded is no number.
Population make_population(const AssessedData& data, const ClusterJob& job);

}  // namespace linewood
