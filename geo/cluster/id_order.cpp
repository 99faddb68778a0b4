#include "geo/cluster/id_order.hpp"

#include <algorithm>
#include <numeric>

namespace linewood {

std::vector<std::uint32_t> id_order(std::span<const std::string_view> ids) {
    std::vector<std::uint32_t> order(ids.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return ids[a] < ids[b];
    });
    return order;
}

}  // namespace linewood
