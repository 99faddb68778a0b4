#include "geo/network/part_order.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>

#include "geo/network/drawn_path.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMostParts = 64;

}  // namespace

void order_parts(std::span<const std::span<const Point>> parts,
                 double tolerance_m,
                 const Ground& ground,
                 std::vector<std::uint32_t>& order) {
    const auto follows = [&](std::uint32_t before, std::uint32_t after) {
        return metres_between(parts[before].back(), parts[after].front(), ground) <= tolerance_m;
    };
    const auto unchained = [&](std::uint32_t a, std::uint32_t b) { return !follows(a, b); };
    if (order.size() < 2 || order.size() > kMostParts ||
        std::adjacent_find(order.begin(), order.end(), unchained) == order.end()) {
        return;
    }
    std::uint32_t begin = kNone;
    std::vector<std::uint32_t> next(parts.size(), kNone);
    for (const std::uint32_t part : order) {
        std::size_t before = 0;
        for (const std::uint32_t other : order) {
            if (other == part) {
                continue;
            }
            before += follows(other, part) ? 1U : 0U;
            if (follows(part, other)) {
                if (next[part] != kNone) {
                    return;
                }
                next[part] = other;
            }
        }
        if (before > 1 || (before == 0 && begin != kNone)) {
            return;
        }
        begin = before == 0 ? part : begin;
    }
    std::vector<std::uint32_t> chain;
    for (std::uint32_t part = begin; part != kNone && chain.size() < order.size();
         part = next[part]) {
        chain.push_back(part);
    }
    if (chain.size() == order.size()) {
        order = std::move(chain);
    }
}

}  // namespace linewood
