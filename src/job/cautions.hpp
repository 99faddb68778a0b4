#pragma once

#include <array>
#include <string_view>

namespace linewood {

/// Said in every output and report.
inline constexpr std::array<std::string_view, 3> kCautions{
    "A screening aid: it helps to choose which poles to look at first and no more.",
    "Local codes, the utility's own criteria and licensed engineers decide.",
    "Never climb, or let anyone climb, a pole on the word of this tool."};

}  // namespace linewood
