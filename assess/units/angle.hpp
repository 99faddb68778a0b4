#pragma once

#include <cmath>
#include <compare>
#include <numbers>

namespace linewood {

/// An angle or a turn, of any size and sign. Degrees inside, so that the round figures of
/// inspection forms and criteria stay exact.
class Angle {
public:
    constexpr Angle() = default;
    static constexpr Angle degrees(double v) { return Angle{v}; }
    static constexpr Angle radians(double v) { return Angle{v * (180.0 / std::numbers::pi)}; }
    constexpr double degrees() const { return degrees_; }
    constexpr double radians() const { return degrees_ * (std::numbers::pi / 180.0); }

    static constexpr Angle from_raw(double degrees) { return Angle{degrees}; }
    constexpr double raw() const { return degrees_; }

    friend constexpr auto operator<=>(Angle, Angle) = default;

private:
    explicit constexpr Angle(double degrees) : degrees_{degrees} {}
    double degrees_ = 0.0;
};

/// A direction on the ground, clockwise from true north, always in [0, 360) degrees.
class Bearing {
public:
    constexpr Bearing() = default;
    /// Any finite number of degrees; brought into [0, 360).
    static Bearing degrees(double v) { return Bearing{wrap(v, 360.0)}; }
    constexpr double degrees() const { return degrees_; }
    constexpr double radians() const { return degrees_ * (std::numbers::pi / 180.0); }

    static constexpr Bearing from_raw(double degrees) { return Bearing{degrees}; }
    constexpr double raw() const { return degrees_; }

    friend constexpr auto operator<=>(Bearing, Bearing) = default;

    /// `v` brought into [0, period); never returns `period` itself.
    static double wrap(double v, double period) {
        double w = std::fmod(v, period);
        if (w < 0.0) {
            w += period;
        }
        return w >= period ? 0.0 : w;
    }

private:
    explicit constexpr Bearing(double degrees) : degrees_{degrees} {}
    double degrees_ = 0.0;
};

/// A line through the pole without a sense: repeats after 180 degrees, always in [0, 180).
/// A Bearing is not an Axis: in-line and out-of-line are asked of an Axis only.
class Axis {
public:
    constexpr Axis() = default;
    /// Any finite number of degrees; brought into [0, 180).
    static Axis degrees(double v) { return Axis{Bearing::wrap(v, 180.0)}; }
    static Axis along(Bearing b) { return degrees(b.degrees()); }
    constexpr double degrees() const { return degrees_; }

    /// The axis square to this one.
    Axis perpendicular() const { return degrees(degrees_ + 90.0); }

    static constexpr Axis from_raw(double degrees) { return Axis{degrees}; }
    constexpr double raw() const { return degrees_; }

    friend constexpr auto operator<=>(Axis, Axis) = default;

private:
    explicit constexpr Axis(double degrees) : degrees_{degrees} {}
    double degrees_ = 0.0;
};

/// The least turn between two directions, in [0, 180].
inline Angle angle_between(Bearing a, Bearing b) {
    const double d = Bearing::wrap(a.degrees() - b.degrees(), 360.0);
    return Angle::degrees(d > 180.0 ? 360.0 - d : d);
}

/// The least turn between a direction and an axis, in [0, 90].
inline Angle angle_off(Bearing b, Axis axis) {
    const double d = Bearing::wrap(b.degrees() - axis.degrees(), 180.0);
    return Angle::degrees(d > 90.0 ? 180.0 - d : d);
}

}  // namespace linewood
