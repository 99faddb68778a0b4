#pragma once

#include <cmath>
#include <numbers>

namespace linewood::polar {

// Inside this room lengths are in radii of the disc and angles in radians. The x axis points north
// and y east, so that a bearing is an ordinary polar angle: p = r (cos a, sin a).

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kTurn = 2.0 * std::numbers::pi;
/// Thinner than this, in radii, is rounding and not wood or decay.
inline constexpr double kThin = 1e-12;
/// Regions that share less of a ray than this, in radii, meet in a point.
inline constexpr double kJoin = 1e-10;
/// Less area than this, in squared radii, is no piece.
inline constexpr double kScrap = 1e-9;

/// A point or a direction. No default values: lists of them are left unset until filled.
struct Vec {
    double x, y;

    friend constexpr Vec operator+(Vec a, Vec b) { return {a.x + b.x, a.y + b.y}; }
    friend constexpr Vec operator-(Vec a, Vec b) { return {a.x - b.x, a.y - b.y}; }
    friend constexpr Vec operator*(double s, Vec v) { return {s * v.x, s * v.y}; }
};

constexpr double dot(Vec a, Vec b) { return a.x * b.x + a.y * b.y; }
constexpr double cross(Vec a, Vec b) { return a.x * b.y - a.y * b.x; }
inline double norm(Vec v) { return std::sqrt(dot(v, v)); }
inline Vec direction(double angle) { return {std::cos(angle), std::sin(angle)}; }

/// `angle`, within a few turns, brought into [0, 2 pi).
inline double wrap_turn(double angle) {
    while (angle < 0.0) {
        angle += kTurn;
    }
    while (angle >= kTurn) {
        angle -= kTurn;
    }
    return angle;
}

}  // namespace linewood::polar
