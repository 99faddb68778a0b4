#include "geo/cluster/join_count.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "geo/stats/normal.hpp"

namespace linewood {
namespace {

struct GraphSums {
    double s0 = 0.0;
    double s1 = 0.0;
    double s2 = 0.0;
};

GraphSums sums_of(const NeighbourRows& rows) {
    GraphSums sums;
    std::vector<std::uint64_t> pairs;  // each joined pair, once for each direction
    pairs.reserve(rows.neighbour_count());
    std::vector<double> degree(rows.size(), 0.0);
    for (std::uint32_t i = 0; i < rows.size(); ++i) {
        for (const Near& near : rows.row(i)) {
            const std::uint64_t low = std::min(i, near.pole);
            const std::uint64_t high = std::max(i, near.pole);
            pairs.push_back((low << 32U) | high);
            degree[i] += 1.0;
            degree[near.pole] += 1.0;
        }
    }
    std::sort(pairs.begin(), pairs.end());
    for (std::size_t begin = 0; begin < pairs.size();) {
        std::size_t end = begin + 1;
        while (end < pairs.size() && pairs[end] == pairs[begin]) {
            ++end;
        }
        const auto weight = static_cast<double>(end - begin);
        sums.s1 += weight * weight;
        begin = end;
    }
    sums.s0 = static_cast<double>(pairs.size());
    for (const double d : degree) {
        sums.s2 += d * d;
    }
    return sums;
}

}  // namespace

JoinCount join_count(std::span<const std::uint8_t> decayed, const NeighbourRows& rows) {
    assert(decayed.size() == rows.size());
    JoinCount result;
    double c = 0.0;
    for (std::size_t i = 0; i < decayed.size(); ++i) {
        if (decayed[i] == 0) {
            continue;
        }
        c += 1.0;
        for (const Near& near : rows.row(i)) {
            result.joins += decayed[near.pole] != 0 ? 0.5 : 0.0;
        }
    }
    const auto n = static_cast<double>(decayed.size());
    if (n < 4.0) {
        return result;
    }
    const GraphSums s = sums_of(rows);
    const double two = c * (c - 1.0) / (n * (n - 1.0));
    const double three = two * (c - 2.0) / (n - 2.0);
    const double four = three * (c - 3.0) / (n - 3.0);
    result.expected = 0.5 * s.s0 * two;
    result.variance = 0.25 * (s.s1 * two + (s.s2 - 2.0 * s.s1) * three +
                              (s.s0 * s.s0 + s.s1 - s.s2) * four - (s.s0 * two) * (s.s0 * two));
    // What rounding leaves of no variance (none or all decayed) is not a variance.
    if (result.variance > 1e-12 * s.s0 * s.s0) {
        result.z = (result.joins - result.expected) / std::sqrt(result.variance);
        result.p = normal_upper(*result.z);
    } else {
        result.variance = 0.0;
    }
    return result;
}

}  // namespace linewood
