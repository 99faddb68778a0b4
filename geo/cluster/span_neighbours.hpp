#pragma once

#include <span>

#include "geo/cluster/neighbour_rows.hpp"
#include "geo/cluster/neighbour_source.hpp"
#include "geo/cluster/span_edges.hpp"

namespace linewood {

/// Distance along the spans: the shortest way from pole to pole (Dijkstra 1959, stopped as soon as
/// the reach is filled). Poles that no spans join are not near, however close they stand; a pole
/// without spans has only itself. Cost of a search: about 100 ns for each pole passed.
class SpanNeighbours : public NeighbourSource {
public:
    /// @param nodes how many poles the network has; all of them carry ways.
    /// @param counted the network's index of each pole that is counted, each once; what is found is
    ///        named by the place in this list.
    SpanNeighbours(std::size_t nodes,
                   std::span<const SpanEdge> edges,
                   std::span<const std::uint32_t> counted);

    std::size_t pole_count() const override { return node_of_.size(); }
    std::unique_ptr<NeighbourSearch> search() const override;
    std::vector<std::uint32_t> layout() const override;

    /// The counted poles one span away from each, once whatever the number of spans between them.
    NeighbourRows joined() const;

private:
    friend class SpanSearch;
    struct Arc {
        std::uint32_t to = 0;
        std::int64_t um = 0;
    };

    std::span<const Arc> arcs(std::uint32_t node) const {
        return {arcs_.data() + first_arc_[node], arcs_.data() + first_arc_[node + 1]};
    }

    std::vector<std::uint32_t> first_arc_;
    std::vector<Arc> arcs_;
    std::vector<std::uint32_t> node_of_;  ///< of each counted pole
    std::vector<std::uint32_t> pole_of_;  ///< of each node; kNone where it is not counted
};

}  // namespace linewood
