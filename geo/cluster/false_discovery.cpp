#include "geo/cluster/false_discovery.hpp"

#include <algorithm>
#include <cstddef>

namespace linewood {

std::vector<std::optional<double>> adjusted_p(std::span<const std::optional<double>> p,
                                              FalseDiscovery method) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < p.size(); ++i) {
        if (p[i]) {
            order.push_back(i);
        }
    }
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return *p[a] != *p[b] ? *p[a] < *p[b] : a < b;
    });
    const auto tests = static_cast<double>(order.size());
    double factor = tests;
    if (method == FalseDiscovery::benjamini_yekutieli) {
        double harmonic = 0.0;
        for (std::size_t i = order.size(); i > 0; --i) {
            harmonic += 1.0 / static_cast<double>(i);
        }
        factor *= harmonic;
    }
    std::vector<std::optional<double>> adjusted(p.size());
    double least = 1.0;
    for (std::size_t rank = order.size(); rank > 0; --rank) {
        const std::size_t test = order[rank - 1];
        least = std::min(least, *p[test] * factor / static_cast<double>(rank));
        adjusted[test] = least;
    }
    return adjusted;
}

}  // namespace linewood
