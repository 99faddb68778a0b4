#include "geo/crs/magnetic.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "geo/crs/magnetic_model_2025.hpp"

namespace linewood {
namespace {

constexpr double kRadiansPerDegree = std::numbers::pi / 180.0;
// WGS 84 (National Geospatial-Intelligence Agency, NGA.STND.0036) and the model's reference radius
// (The US/UK World Magnetic Model, technical report, section 1.2).
constexpr double kSemiMajorM = 6378137.0;
constexpr double kFlattening = 1.0 / 298.257223563;
constexpr double kReferenceRadiusM = 6371200.0;

constexpr int kSize = kMagneticDegree + 1;
using Table = std::array<std::array<double, kSize>, kSize>;

/// Spherical coordinates of a place given on the ellipsoid; `tilt` is the geocentric less the
/// geodetic latitude, in radians.
struct Spherical {
    double radius_m, sin_latitude, cos_latitude, tilt;
};

Spherical to_spherical(double latitude_deg, double height_m) {
    const double latitude = latitude_deg * kRadiansPerDegree;
    const double e2 = kFlattening * (2.0 - kFlattening);
    const double s = std::sin(latitude);
    const double prime_vertical = kSemiMajorM / std::sqrt(1.0 - e2 * s * s);
    const double p = (prime_vertical + height_m) * std::cos(latitude);
    const double z = (prime_vertical * (1.0 - e2) + height_m) * s;
    const double r = std::hypot(p, z);
    return {r, z / r, p / r, std::atan2(z, p) - latitude};
}

/// Schmidt semi-normalised associated Legendre functions of cos(colatitude) = `c`, with
/// sin(colatitude) = `s`: `p[n][0]` for order 0, and for m >= 1 the function divided by s, so that
/// nothing is divided by s at the poles.
Table legendre(double c, double s) {
    Table p{};
    p[0][0] = 1.0;
    p[1][1] = 1.0;
    for (std::size_t m = 2; m < kSize; ++m) {
        const double twice = 2.0 * static_cast<double>(m);
        p[m][m] = std::sqrt((twice - 1.0) / twice) * s * p[m - 1][m - 1];
    }
    for (std::size_t n = 1; n < kSize; ++n) {
        for (std::size_t m = 0; m < n; ++m) {
            const auto nn = static_cast<double>(n);
            const auto mm = static_cast<double>(m);
            const double below = m + 2 <= n ? p[n - 2][m] : 0.0;
            p[n][m] = ((2.0 * nn - 1.0) * c * p[n - 1][m] -
                       std::sqrt(std::max(0.0, (nn - 1.0) * (nn - 1.0) - mm * mm)) * below) /
                      std::sqrt(nn * nn - mm * mm);
        }
    }
    return p;
}

/// Derivative of the Schmidt function (n, m) by the colatitude, from the table of legendre(c, s).
double slope(const Table& p, std::size_t n, std::size_t m, double c, double s) {
    const auto nn = static_cast<double>(n);
    const auto mm = static_cast<double>(m);
    if (m == 0) {
        return -std::sqrt(nn * (nn + 1.0) / 2.0) * p[n][1] * s;
    }
    return nn * c * p[n][m] - std::sqrt(nn * nn - mm * mm) * p[n - 1][m];
}

/// The horizontal field at a place, nT, north and east on the ellipsoid.
struct Horizontal {
    double north, east;
};

Horizontal field(Point lonlat, double height_m, double years) {
    const Spherical at = to_spherical(lonlat.y, height_m);
    const double c = at.sin_latitude;  // of the colatitude
    const double s = at.cos_latitude;
    const Table p = legendre(c, s);
    const double longitude = lonlat.x * kRadiansPerDegree;
    double north = 0.0;
    double east = 0.0;
    double down = 0.0;
    for (const GaussCoefficient& line : kMagneticModel2025) {
        const auto n = static_cast<std::size_t>(line.n);
        const auto m = static_cast<std::size_t>(line.m);
        const double g = line.g + years * line.g_dot;
        const double h = line.h + years * line.h_dot;
        const double turn = line.m * longitude;
        const double along = g * std::cos(turn) + h * std::sin(turn);
        const double across = g * std::sin(turn) - h * std::cos(turn);
        const double decay = std::pow(kReferenceRadiusM / at.radius_m, line.n + 2);
        const double whole = m == 0 ? p[n][0] : p[n][m] * s;
        north += decay * along * slope(p, n, m, c, s);
        east += decay * across * line.m * (m == 0 ? 0.0 : p[n][m]);
        down -= decay * along * (line.n + 1) * whole;
    }
    return {north * std::cos(at.tilt) - down * std::sin(at.tilt), east};
}

double decimal_year_of(Date date) {
    const int year = date.ymd().year;
    const auto start = Date::from_ymd(year, 1, 1);
    const auto next = Date::from_ymd(year + 1, 1, 1);
    if (!start || !next) {
        return static_cast<double>(year);
    }
    return year + static_cast<double>(date.days() - start->days()) /
                      static_cast<double>(next->days() - start->days());
}

}  // namespace

std::optional<Angle> declination(Point lonlat, double height_m, double decimal_year) {
    if (!(decimal_year >= kMagneticEpoch && decimal_year <= kMagneticEnd) ||
        !(std::abs(lonlat.y) <= 90.0) || !std::isfinite(lonlat.x) || !std::isfinite(height_m)) {
        return std::nullopt;
    }
    const Horizontal f = field(lonlat, height_m, decimal_year - kMagneticEpoch);
    return Angle::radians(std::atan2(f.east, f.north));
}

std::optional<Angle> declination(Point lonlat, double height_m, Date date) {
    return declination(lonlat, height_m, decimal_year_of(date));
}

}  // namespace linewood
