#pragma once

#include <compare>

namespace linewood {

/// A length: girth, diameter, width, depth, shell, height or distance along the pole.
/// Metres inside; built and read through named units only, so no bare number can be mistaken.
/// Exact factors: 1 in = 25.4 mm, 1 ft = 0.3048 m (international).
class Length {
public:
    constexpr Length() = default;

    static constexpr Length metres(double v) { return Length{v}; }
    static constexpr Length millimetres(double v) { return Length{v * 0.001}; }
    static constexpr Length inches(double v) { return Length{v * kMetresPerInch}; }
    static constexpr Length feet(double v) { return Length{v * kMetresPerFoot}; }

    constexpr double metres() const { return metres_; }
    constexpr double millimetres() const { return metres_ * 1000.0; }
    constexpr double inches() const { return metres_ / kMetresPerInch; }
    constexpr double feet() const { return metres_ / kMetresPerFoot; }

    /// The stored number, for compact storage in Maybe.
    static constexpr Length from_raw(double metres) { return Length{metres}; }
    constexpr double raw() const { return metres_; }

    friend constexpr auto operator<=>(Length, Length) = default;
    friend constexpr Length operator+(Length a, Length b) { return Length{a.metres_ + b.metres_}; }
    friend constexpr Length operator-(Length a, Length b) { return Length{a.metres_ - b.metres_}; }
    friend constexpr Length operator-(Length a) { return Length{-a.metres_}; }
    friend constexpr Length operator*(Length a, double s) { return Length{a.metres_ * s}; }
    friend constexpr Length operator*(double s, Length a) { return Length{a.metres_ * s}; }
    friend constexpr Length operator/(Length a, double s) { return Length{a.metres_ / s}; }
    friend constexpr double operator/(Length a, Length b) { return a.metres_ / b.metres_; }

private:
    static constexpr double kMetresPerInch = 0.0254;
    static constexpr double kMetresPerFoot = 0.3048;

    explicit constexpr Length(double metres) : metres_{metres} {}

    double metres_ = 0.0;
};

}  // namespace linewood
