#include "src/pipeline/true_azimuth.hpp"

#include <cmath>

#include "geo/crs/magnetic.hpp"
#include "src/pipeline/input_findings.hpp"
#include "src/pipeline/span_reader.hpp"

namespace linewood {
namespace {

constexpr double kDegreesPerHour = 30.0;

constexpr std::string_view kNoLine =
    ": no line runs at this pole, so nothing is at 12 o'clock. Give its given_azimuth";
constexpr std::string_view kNoPlace = ": the pole has no place, and how north lies depends on that";
constexpr std::string_view kNoEarth =
    ": the layer has no place on the Earth, so the compass's error is not known. Give "
    "--declination";

bool is_place(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

}  // namespace

Point AzimuthResolver::ground_place(std::uint32_t pole) const {
    Point place = poles_.places[pole];
    frame_.poles_to_ground({&place, 1});
    return place;
}

TrueAzimuth AzimuthResolver::from_clock(double hours, std::uint32_t pole) const {
    const LineDirection line = direction_at(network_, poles_, pole);
    if (!line.axis) {
        return {{}, &finding::kAzimuthUnresolved, kNoLine};
    }
    // A station was recorded to count along the line; the way a span is drawn may be an accident.
    std::optional<Bearing> way = network_.ahead_by_station(pole, poles_.stations);
    if (!way) {
        way = network_.ahead(pole);
    }
    // The axis decides the line, stations or the order of drawing only which way along it is ahead.
    double ahead = line.axis->degrees();
    if (way && angle_between(*way, Bearing::degrees(ahead)).degrees() > 90.0) {
        ahead += 180.0;
    }
    return {Bearing::degrees(ahead + hours * kDegreesPerHour),
            way ? nullptr : &finding::kClockAssumed};
}

TrueAzimuth AzimuthResolver::from_compass(double degrees,
                                          Point place,
                                          std::optional<Date> date) const {
    if (declination_) {
        return {Bearing::degrees(degrees + declination_->degrees()), nullptr};
    }
    if (!is_place(place) || !frame_.on_earth()) {
        return {{}, &finding::kAzimuthUnresolved, is_place(place) ? kNoEarth : kNoPlace};
    }
    if (!date) {
        return {{}, &finding::kMagneticUndated};
    }
    const auto east = declination(place, 0.0, *date);
    if (!east) {
        return {{}, &finding::kMagneticDate};
    }
    return {Bearing::degrees(degrees + east->degrees()), nullptr};
}

TrueAzimuth AzimuthResolver::resolve(double recorded,
                                     AzimuthRef ref,
                                     std::uint32_t pole,
                                     std::optional<Date> date) const {
    const double most = ref == AzimuthRef::clock ? 12.0 : 360.0;
    if (recorded < 0.0 || recorded > most) {
        return {{}, &finding::kAzimuthRange};
    }
    switch (ref) {
        case AzimuthRef::true_north:
            return {Bearing::degrees(recorded), nullptr};
        case AzimuthRef::clock:
            return from_clock(recorded, pole);
        case AzimuthRef::grid: {
            const Point place = ground_place(pole);
            if (!is_place(place)) {
                break;
            }
            return {Bearing::degrees(recorded + frame_.convergence(place).degrees()),
                    frame_.poles_lack_grid() ? &finding::kGridAssumed : nullptr};
        }
        case AzimuthRef::magnetic:
            return from_compass(recorded, ground_place(pole), date);
    }
    return {{}, &finding::kAzimuthUnresolved, kNoPlace};
}

}  // namespace linewood
