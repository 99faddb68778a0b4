#include "src/assessed/metric_frame.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "assess/condition/condition_findings.hpp"
#include "src/job/job_error.hpp"

namespace linewood {
namespace {

/// Own choice, no source: coarse enough to stay where it is while a network grows.
constexpr double kCentreStep = 5.0;

/// The middle one of the numbers that are some; 0 where there are none.
double median(std::vector<double> values) {
    if (values.empty()) {
        return 0.0;
    }
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// The middle of the poles, whichever side of the 180th meridian they stand on.
Point middle_of(std::span<const Point> poles) {
    constexpr double kRadians = 0.017453292519943295;
    double x = 0.0;
    double y = 0.0;
    std::vector<double> latitudes;
    for (const Point p : poles) {
        if (std::isfinite(p.x) && std::isfinite(p.y)) {
            x += std::cos(p.x * kRadians);
            y += std::sin(p.x * kRadians);
            latitudes.push_back(p.y);
        }
    }
    const double around = std::round(std::atan2(y, x) / kRadians);
    std::vector<double> steps;
    for (const Point p : poles) {
        if (std::isfinite(p.x) && std::isfinite(p.y)) {
            steps.push_back(std::remainder(p.x - around, 360.0));
        }
    }
    return {std::remainder(around + median(std::move(steps)), 360.0), median(std::move(latitudes))};
}

std::string equal_area_wkt(double longitude, double latitude) {
    const std::string degree = ",ANGLEUNIT[\"degree\",0.0174532925199433]]";
    const std::string metre = ",0,LENGTHUNIT[\"metre\",1]]";
    return "PROJCRS[\"Local equal area\",BASEGEOGCRS[\"WGS 84\",DATUM[\"World Geodetic System "
           "1984\",ELLIPSOID[\"WGS 84\",6378137,298.257223563,LENGTHUNIT[\"metre\",1]]]],"
           "CONVERSION[\"Local equal area\",METHOD[\"Lambert Azimuthal Equal Area\",ID[\"EPSG\","
           "9820]],PARAMETER[\"Latitude of natural origin\"," +
           plain_number(latitude) + degree + ",PARAMETER[\"Longitude of natural origin\"," +
           plain_number(longitude) + degree + ",PARAMETER[\"False easting\"" + metre +
           ",PARAMETER[\"False northing\"" + metre +
           "],CS[Cartesian,2],AXIS[\"easting (X)\",east],AXIS[\"northing (Y)\",north],LENGTHUNIT["
           "\"metre\",1]]";
}

std::string shown(double degrees, const char* positive, const char* negative) {
    return plain_number(std::abs(degrees)) + " " + (degrees < 0.0 ? negative : positive);
}

/// A system that the user named, where it is one in metres.
LayerCrs named_system(const std::string& text, Point middle) {
    // A bare word would be taken for part of a name, and some system found that has it.
    const auto colon = text.find(':');
    const bool is_code = colon != std::string::npos && colon > 0 && colon + 1 < text.size();
    if (!is_code && text.find_first_of("[{") == std::string::npos) {
        throw JobError{"--metric-crs " + text +
                       " is no coordinate system; name one by its code (EPSG:32610), or as WKT"};
    }
    std::optional<LayerCrs> crs;
    try {
        crs.emplace(LayerCrs::from_wkt(text));
    } catch (const CrsError& e) {
        throw JobError{"--metric-crs " + text + ": " + e.what()};
    }
    if (crs->geographic()) {
        throw JobError{"--metric-crs " + text +
                       " is in degrees; name a projected system in metres, such as the UTM zone"};
    }
    constexpr double kStep = 1000.0;
    const Point at = crs->from_ground(middle);
    const double there = crs->ground()
                             .course(crs->to_ground(at), crs->to_ground(Point{at.x + kStep, at.y}))
                             .length_m;
    // No system made for a region is off by so much; feet are.
    if (!(std::abs(there - kStep) < 0.05 * kStep)) {
        throw JobError{"--metric-crs " + text +
                       " does not measure metres where the poles are; name a system made for that "
                       "region, or leave the option away"};
    }
    return std::move(*crs);
}

}  // namespace

MetricFrame MetricFrame::around(const GroundFrame& ground,
                                std::span<const Point> poles,
                                double plane_metres_per_unit,
                                const std::string& crs) {
    MetricFrame frame{ground, plane_metres_per_unit};
    if (!ground.on_earth()) {
        if (!crs.empty()) {
            throw JobError{"--metric-crs: the poles layer has no coordinate system to come from"};
        }
        return frame;
    }
    const Point middle = middle_of(poles);
    if (!crs.empty()) {
        frame.crs_.emplace(named_system(crs, middle));
        frame.name_ = frame.crs_->name();
        return frame;
    }
    const double longitude =
        std::remainder(std::round(middle.x / kCentreStep) * kCentreStep, 360.0);
    const double latitude = std::round(middle.y / kCentreStep) * kCentreStep;
    frame.crs_.emplace(LayerCrs::from_wkt(equal_area_wkt(longitude, latitude)));
    frame.name_ = "Lambert azimuthal equal area about " + shown(latitude, "N", "S") + " " +
                  shown(longitude, "E", "W");
    return frame;
}

void MetricFrame::from_ground(std::span<Point> points) const {
    for (Point& p : points) {
        p = crs_ ? crs_->from_ground(p) : Point{p.x * metres_per_unit_, p.y * metres_per_unit_};
    }
}

Point MetricFrame::to_layer(Point metric) const {
    if (!crs_) {
        return {metric.x / metres_per_unit_, metric.y / metres_per_unit_};
    }
    return ground_->to_poles_layer(crs_->to_ground(metric));
}

}  // namespace linewood
