#include "geo/corridor/line_graph.hpp"
#include "geo/network/network.hpp"

namespace linewood {

std::vector<CorridorSpan> corridor_spans(const Network& network) {
    std::vector<CorridorSpan> spans;
    for (std::size_t i = 0; i < network.spans().size(); ++i) {
        if (network.joins(i)) {
            const ResolvedSpan& span = network.spans()[i];
            spans.push_back({span.from,
                             span.to,
                             span.length_m,
                             network.service(i).circuit,
                             static_cast<std::uint32_t>(i)});
        }
    }
    return spans;
}

}  // namespace linewood
