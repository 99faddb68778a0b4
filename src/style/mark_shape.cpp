#include "src/style/mark_shape.hpp"

#include <cmath>
#include <numbers>

namespace linewood {
namespace {

using Ring = std::vector<SvgPoint>;

/// Corners at equal angles from the top on, in turn at these two distances.
Ring corners(int count, double outer, double inner) {
    Ring ring;
    for (int i = 0; i < count; ++i) {
        const double angle = 2.0 * std::numbers::pi * i / count;
        const double r = i % 2 == 0 ? outer : inner;
        ring.push_back({r * std::sin(angle), -r * std::cos(angle)});
    }
    return ring;
}

Ring box(double left, double top, double right, double bottom) {
    return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

Ring plus(double arm) {
    return {{-arm, -1.0},
            {arm, -1.0},
            {arm, -arm},
            {1.0, -arm},
            {1.0, arm},
            {arm, arm},
            {arm, 1.0},
            {-arm, 1.0},
            {-arm, arm},
            {-1.0, arm},
            {-1.0, -arm},
            {-arm, -arm}};
}

Ring turned_by_45(Ring ring) {
    constexpr double kHalf = std::numbers::sqrt2 / 2.0;
    for (SvgPoint& p : ring) {
        p = {(p.x - p.y) * kHalf, (p.x + p.y) * kHalf};
    }
    return ring;
}

/// A stroke from top to bottom: `pieces` of that length with equal gaps.
std::vector<Ring> tick(int pieces, double length, double stroke) {
    std::vector<Ring> rings;
    for (int i = 0; i < pieces; ++i) {
        const double top = pieces == 1 ? -1.0 : -1.0 + (2.0 - length) * i / (pieces - 1);
        rings.push_back(box(-stroke / 2.0, top, stroke / 2.0, top + length));
    }
    return rings;
}

}  // namespace

std::vector<std::vector<SvgPoint>> mark_rings(MarkShape shape, double stroke) {
    constexpr double kArm = 0.3;
    switch (shape) {
        case MarkShape::circle:
            return {corners(48, 1.0, 1.0)};
        case MarkShape::square:
            return {box(-0.9, -0.9, 0.9, 0.9)};
        case MarkShape::triangle:
            return {{{0.0, -1.0}, {1.0, 0.85}, {-1.0, 0.85}}};
        case MarkShape::star:
            return {corners(10, 1.0, 0.42)};
        case MarkShape::x:
            return {turned_by_45(plus(kArm))};
        case MarkShape::cross:
            return {plus(kArm)};
        case MarkShape::tick:
            return tick(1, 2.0, stroke);
        case MarkShape::dashed_tick:
            return tick(2, kDashOfTick, stroke);
        case MarkShape::dotted_tick:
            return tick(3, stroke, stroke);
    }
    return {};
}

}  // namespace linewood
