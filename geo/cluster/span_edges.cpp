#include "geo/cluster/span_edges.hpp"

#include <cmath>

namespace linewood {

std::vector<SpanEdge> span_edges(const Network& network) {
    std::vector<SpanEdge> edges;
    const auto spans = network.spans();
    for (std::size_t i = 0; i < spans.size(); ++i) {
        if (network.joins(i) && std::isfinite(spans[i].length_m)) {
            edges.push_back({spans[i].from, spans[i].to, spans[i].length_m});
        }
    }
    return edges;
}

}  // namespace linewood
