#include "assess/section/one_pocket.hpp"

#include <algorithm>
#include <cmath>

namespace linewood {

using namespace polar;  // NOLINT(google-build-using-namespace): the geometry of this room

namespace {

constexpr double kClear = 1e-9;

/// The one pocket, if it takes anything away.
const Pocket* pocket_of(const SectionShape& shape) {
    const double least = kThin * shape.radius.metres();
    for (const Pocket& p : shape.pockets) {
        if (p.width.metres() > least && p.depth.metres() > least) {
            return &p;
        }
    }
    return nullptr;
}

/// In radii; 0 where there is none. @pre readings are equal
double void_radius(const SectionShape& shape) {
    if (shape.shell.empty()) {
        return 0.0;
    }
    return std::clamp(1.0 - shape.shell.front().thickness / shape.radius, 0.0, 1.0);
}

Moments whole_disc(double r) {
    const double r2 = r * r;
    const double quarter = 0.25 * kPi * r2 * r2;
    return {kPi * r2, 0.0, 0.0, quarter, 0.0, quarter};
}

/// Pocket of half-width `half` down to the circle of radius `bottom`, around the x axis.
void cut_pocket(Outline& outline, double half, double bottom) {
    const double depth_at_side = std::sqrt(1.0 - half * half);
    outline.add_corner({depth_at_side, half});
    outline.add_corner({depth_at_side, -half});
    const double foot = half < bottom ? std::sqrt(bottom * bottom - half * half) : 0.0;
    const double edge = std::min(half, bottom);
    outline.add_corner({foot, edge});
    outline.add_corner({foot, -edge});
    outline.add_arc({{-1.0, 0.0}, -depth_at_side, 1.0});
    outline.add_arc({{1.0, 0.0}, foot / bottom, bottom});
}

}  // namespace

bool is_one_pocket(const SectionShape& shape) {
    const double radius = shape.radius.metres();
    if (!(radius > 0.0) || shape.pockets.size() > 1) {
        return false;
    }
    for (const ShellReading& r : shape.shell) {
        if (r.thickness != shape.shell.front().thickness) {
            return false;
        }
    }
    const Pocket* pocket = pocket_of(shape);
    const double bottom = pocket ? 1.0 - pocket->depth.metres() / radius : 1.0;
    const double rho = void_radius(shape);
    return bottom > kClear && rho < bottom - kClear;
}

Mechanics one_pocket(const SectionShape& shape) {
    const double radius = shape.radius.metres();
    const Pocket* pocket = pocket_of(shape);
    Moments moments = whole_disc(1.0);
    if (const double rho = void_radius(shape); rho > 0.0) {
        moments -= whole_disc(rho);
    }
    double half = 0.0;
    double bottom = 1.0;
    if (pocket) {
        half = std::min(0.5 * (pocket->width.metres() / radius), 1.0);
        bottom = 1.0 - pocket->depth.metres() / radius;
        moments -= under_strip(1.0, half);
        moments += under_strip(bottom, std::min(half, bottom));
    }
    const Bearing frame = pocket ? pocket->azimuth : Bearing{};
    Mechanics result{
        moments.area * radius * radius, 1, 0.0, false, Outline::symmetric(radius, frame, moments)};
    if (pocket) {
        cut_pocket(result.outline, half, bottom);
    } else {
        result.outline.add_arc({{1.0, 0.0}, -1.0, 1.0});
    }
    return result;
}

}  // namespace linewood
