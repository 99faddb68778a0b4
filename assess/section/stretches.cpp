#include "assess/section/stretches.hpp"

#include <algorithm>
#include <cmath>

#include "assess/section/shell_profile.hpp"

namespace linewood::polar {

namespace {

constexpr double kQuarter = 0.5 * kPi;
constexpr double kEnd = 1e-9;

/// Adds the stretches of one pocket, angles counted from its azimuth.
class PocketStretches {
public:
    PocketStretches(std::vector<Stretch>& to, double azimuth, double half, int cavity)
        : to_{to}, azimuth_{azimuth}, half_{half}, cavity_{cavity} {}

    /// Depth below the radius: the front half of the strip, outside the circle of radius `bottom`.
    void shallow(double bottom) {
        low_ = bottom;
        const double mouth = std::asin(half_);
        add(-mouth, mouth, Curve::arc(1.0));
        if (half_ < 1.0) {
            add_sides(mouth, half_ < bottom ? std::asin(half_ / bottom) : kQuarter);
        }
    }

    /// Depth from the radius on: the strip as far as the chord `beyond` behind the centre.
    void deep(double beyond) {
        low_ = 0.0;
        const double back = kPi - (beyond < 1.0 ? std::acos(beyond) : 0.0);
        if (half_ >= 1.0) {
            add(-back, back, Curve::arc(1.0));
            add_floor(back, beyond);
            return;
        }
        const double mouth = std::asin(half_);
        add(-mouth, mouth, Curve::arc(1.0));
        if (beyond * beyond + half_ * half_ < 1.0) {
            const double corner = std::atan2(half_, -beyond);
            add_sides(mouth, corner);
            add_floor(corner, beyond);
        } else {
            add_sides(mouth, kPi - mouth);
            add(kPi - mouth, back, Curve::arc(1.0));
            add(-back, mouth - kPi, Curve::arc(1.0));
            add_floor(back, beyond);
        }
    }

private:
    void add_sides(double from, double to) {
        add(from, to, Curve::edge(half_, azimuth_ + kQuarter));
        add(-to, -from, Curve::edge(half_, azimuth_ - kQuarter));
    }

    void add_floor(double from, double beyond) {
        if (beyond > 0.0 && beyond < 1.0) {
            add(from, kTurn - from, Curve::edge(beyond, azimuth_ + kPi));
        }
    }

    void add(double from, double to, const Curve& high) {
        if (to > from) {
            to_.push_back({wrap_turn(azimuth_ + from), to - from, low_, high, cavity_});
        }
    }

    std::vector<Stretch>& to_;
    double azimuth_;
    double half_;
    int cavity_;
    double low_ = 0.0;
};

void add_void(std::vector<Stretch>& to, const SectionShape& shape) {
    const ShellProfile profile{shape};
    const auto& readings = profile.readings();
    const int cavity = static_cast<int>(shape.pockets.size());
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const auto& here = readings[i];
        const auto& next = readings[(i + 1) % readings.size()];
        const double from = 1.0 - here.thickness;
        const double to_radius = 1.0 - next.thickness;
        if (std::max(from, to_radius) <= kThin) {
            continue;
        }
        double degrees = Bearing::wrap(next.azimuth - here.azimuth, 360.0);
        degrees = degrees > 0.0 ? degrees : 360.0;
        const double span = Angle::degrees(degrees).radians();
        const Curve high =
            from == to_radius ? Curve::arc(from) : Curve::spiral(from, (to_radius - from) / span);
        to.push_back({wrap_turn(Angle::degrees(here.azimuth).radians()), span, 0.0, high, cavity});
    }
}

}  // namespace

Curve Curve::arc(double radius) {
    Curve c;
    c.size = radius;
    return c;
}

Curve Curve::edge(double distance, double normal) {
    Curve c;
    c.kind = Kind::edge;
    c.size = distance;
    c.normal = normal;
    c.unit = direction(normal);
    return c;
}

Curve Curve::spiral(double r0, double slope) {
    Curve c;
    c.kind = Kind::spiral;
    c.size = r0;
    c.slope = slope;
    return c;
}

double Curve::at(Vec ray, double offset) const {
    if (kind == Kind::arc) {
        return size;
    }
    if (kind == Kind::spiral) {
        return std::clamp(size + slope * offset, 0.0, 1.0);
    }
    const double towards = dot(ray, unit);
    return towards > size ? size / towards : 1.0;
}

double Stretch::offset(double angle) const {
    const double from = angle - begin;
    return from < 0.0 ? from + kTurn : from;
}

bool Stretch::holds(double angle) const {
    const double from = offset(angle);
    return from <= span + kEnd || from >= kTurn - kEnd;
}

std::vector<Stretch> stretches_of(const SectionShape& shape) {
    const double radius = shape.radius.metres();
    std::vector<Stretch> all;
    all.reserve(8 + 4 * shape.pockets.size());
    add_void(all, shape);
    for (std::size_t i = 0; i < shape.pockets.size(); ++i) {
        const Pocket& pocket = shape.pockets[i];
        const double half = std::min(0.5 * (pocket.width.metres() / radius), 1.0);
        const double depth = std::min(pocket.depth.metres() / radius, 2.0);
        if (half <= 0.5 * kThin || depth <= kThin) {
            continue;
        }
        PocketStretches add{all, pocket.azimuth.radians(), half, static_cast<int>(i)};
        if (depth < 1.0) {
            add.shallow(1.0 - depth);
        } else {
            add.deep(depth - 1.0);
        }
    }
    std::stable_sort(
        all.begin(), all.end(), [](const Stretch& a, const Stretch& b) { return a.low < b.low; });
    return all;
}

}  // namespace linewood::polar
