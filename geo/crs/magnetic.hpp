#pragma once

#include <optional>

#include "assess/units/angle.hpp"
#include "assess/units/date.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// Magnetic declination by the World Magnetic Model 2025 (NOAA NCEI and British Geological Survey):
/// `true azimuth = compass azimuth + declination`, east positive, in (-180, 180].
///
/// `lonlat` in degrees on WGS 84 (another datum moves it by under 0.01 degrees), `height_m`
/// above the ellipsoid (1 km changes the declination by under 0.01 degrees away from the magnetic
/// poles). The model is the slowly changing field of the Earth's core: rocks, steel and wires near
/// the compass are not in it; near the magnetic poles a compass itself is of little use.
/// @return nothing outside 2025-01-01 to 2030-01-01 (both inclusive), the years the model is issued
///         for, and nothing for a place that is no place (NaN, latitude beyond 90 degrees).
std::optional<Angle> declination(Point lonlat, double height_m, Date date);

/// The same at a decimal year (2026.5 = the middle of 2026), from 2025.0 to 2030.0.
std::optional<Angle> declination(Point lonlat, double height_m, double decimal_year);

}  // namespace linewood
