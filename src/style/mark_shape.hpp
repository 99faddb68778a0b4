#pragma once

#include <array>
#include <cstdint>
#include <string_view>
#include <vector>

#include "src/report/svg.hpp"

namespace linewood {

/// The shapes of point marks. The first six are those that SLD and SE name; a tick is a stroke through the
/// place, that is turned to a direction.
enum class MarkShape : std::uint8_t {
    circle,
    square,
    triangle,
    star,
    x,
    cross,
    tick,
    dashed_tick,
    dotted_tick
};

/// As `styles/layers.json` writes them, in the order of MarkShape.
inline constexpr std::array<std::string_view, 9> kMarkShapes{
    "circle", "square", "triangle", "star", "x", "cross", "tick", "dashed_tick", "dotted_tick"};

inline std::string_view name_of(MarkShape shape) {
    return kMarkShapes[static_cast<std::size_t>(shape)];
}

/// The two strokes of a dashed tick, each, in a box from -1 to 1; the gap is the rest. A dotted tick is three dots.
inline constexpr double kDashOfTick = 0.7;

inline bool is_tick(MarkShape shape) { return shape >= MarkShape::tick; }

/// The closed outlines of a shape in a box from -1 to 1, x right and y down. @param stroke of a tick: its
/// width in the same measure.
std::vector<std::vector<SvgPoint>> mark_rings(MarkShape shape, double stroke);

}  // namespace linewood
