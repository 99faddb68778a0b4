#pragma once

#include <cstdint>
#include <vector>

#include "geo/network/network.hpp"

namespace linewood {

/// A span between two poles, as a way to go.
struct SpanEdge {
    std::uint32_t a = 0;
    std::uint32_t b = 0;
    double length_m = 0.0;  ///< at least 0
};

/// The spans of a network that join two poles, by the indexes of its poles. Services, guys and spans
/// without a known length are left out.
std::vector<SpanEdge> span_edges(const Network& network);

}  // namespace linewood
