#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace linewood {

/// The positions of the ids in the order of their bytes (equal ones in the order given). What this
/// room computes depends on the order of the poles where distances tie, where labels are drawn and
/// where sums are rounded; poles brought into this order first give the same bytes whatever order
/// the file had.
std::vector<std::uint32_t> id_order(std::span<const std::string_view> ids);

}  // namespace linewood
