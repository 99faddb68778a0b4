#include "src/pipeline/ground_frame.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>
#include <vector>

#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

/// WGS 84 as defined: NGA.STND.0036 (from memory; PROJ has the same figures).
constexpr double kWgs84SemiMajor = 6378137.0;
constexpr double kWgs84Flattening = 1.0 / 298.257223563;
/// Once round the Earth, m, rounded up (computed from the semi-major axis).
constexpr double kEarthRound = 4.01e7;
/// Projected coordinates beyond this may be none, though a formula gives a place for them: they are carried back
/// to see (own choice; systems with the zone in front of the easting have them rightly).
constexpr double kFarCoordinate = 1e7;

bool is_far(Point p) { return std::abs(p.x) > kFarCoordinate || std::abs(p.y) > kFarCoordinate; }

constexpr Point kNoPlace{std::numeric_limits<double>::quiet_NaN(),
                         std::numeric_limits<double>::quiet_NaN()};

/// The layer's system, or a plane where it states none or one that cannot be used.
LayerCrs read_crs(const std::string& wkt, double metres_per_unit, InputLayer layer, Findings& out) {
    if (wkt.empty()) {
        return LayerCrs::none(metres_per_unit);
    }
    try {
        return LayerCrs::from_wkt(wkt);
    } catch (const GeocentricCrs&) {
        throw;
    } catch (const CrsError& unusable) {
        Finding f = make_finding(finding::kCrsUnknown, layer, -1, "crs", "");
        f.message += std::string{"; "} + unusable.what();
        out.push_back(std::move(f));
        return LayerCrs::none(metres_per_unit);
    }
}

}  // namespace

GroundFrame::GroundFrame(const std::string& poles_wkt,
                         const std::string* spans_wkt,
                         double metres_per_unit,
                         Findings& findings)
    : poles_{read_crs(poles_wkt, metres_per_unit, InputLayer::poles, findings)},
      spans_{spans_wkt == nullptr
                 ? LayerCrs::none(metres_per_unit)
                 : read_crs(*spans_wkt, metres_per_unit, InputLayer::spans, findings)},
      ground_{poles_.ground()} {
    take_one_plane(poles_wkt, spans_wkt, findings);
    const Ground::Scale plane = poles_.known() ? Ground::Scale{} : poles_.ground().scale_at({});
    plane_limit_ = kEarthRound / plane.x_m;
    const bool has_spans = spans_wkt != nullptr;
    if (!poles_.known() && has_spans && spans_.known()) {
        findings.push_back(
            make_finding(finding::kCrsAssumed, InputLayer::poles, -1, "crs", spans_.name()));
        poles_ = LayerCrs::from_wkt(*spans_wkt);
    } else if (poles_.known() && has_spans && !spans_.known()) {
        findings.push_back(
            make_finding(finding::kCrsAssumed, InputLayer::spans, -1, "crs", poles_.name()));
        spans_ = LayerCrs::from_wkt(poles_wkt);
    } else if (!poles_.known() && !poles_.local() && poles_wkt.empty()) {
        findings.push_back(make_finding(finding::kCrsUnknown, InputLayer::poles, -1, "crs", ""));
    }
    if (poles_.local()) {
        findings.push_back(
            make_finding(finding::kCrsLocal, InputLayer::poles, -1, "crs", poles_.name()));
    }
    by_wgs84_ = has_spans && poles_.known() && spans_.known() && poles_.name() != spans_.name();
    ground_ = by_wgs84_ ? Ground::geodesic(kWgs84SemiMajor, kWgs84Flattening) : poles_.ground();
}

/// Two planes are one: where only one of them is a local system, that one's; where both are, that of the poles.
void GroundFrame::take_one_plane(const std::string& poles_wkt,
                                 const std::string* spans_wkt,
                                 Findings& findings) {
    if (spans_wkt == nullptr || poles_.known() || spans_.known() ||
        poles_.name() == spans_.name()) {
        return;
    }
    const bool of_poles = poles_.local();
    findings.push_back(make_finding(finding::kCrsAssumed,
                                    of_poles ? InputLayer::spans : InputLayer::poles,
                                    -1,
                                    "crs",
                                    of_poles ? poles_.name() : spans_.name()));
    (of_poles ? spans_ : poles_) = LayerCrs::from_wkt(of_poles ? poles_wkt : *spans_wkt);
}

void GroundFrame::poles_to_ground(std::span<Point> points) const { to_ground(poles_, points); }

void GroundFrame::spans_to_ground(std::span<Point> points) const { to_ground(spans_, points); }

void GroundFrame::to_ground(const LayerCrs& crs, std::span<Point> points) const {
    if (!crs.known()) {
        for (Point& p : points) {
            if (std::abs(p.x) > plane_limit_ || std::abs(p.y) > plane_limit_) {
                p = kNoPlace;
            }
        }
        return;
    }
    std::vector<std::pair<std::size_t, Point>> far;
    if (!crs.geographic()) {
        for (std::size_t i = 0; i < points.size(); ++i) {
            if (is_far(points[i])) {
                far.emplace_back(i, points[i]);
            }
        }
    }
    by_wgs84_ ? crs.to_wgs84(points) : crs.to_ground(points);
    constexpr double kSame = 1e4;  // of the layer's units: more than any two datums are apart
    for (const auto& [i, before] : far) {
        const Point back = crs.from_ground(points[i]);
        if (!(std::abs(back.x - before.x) < kSame && std::abs(back.y - before.y) < kSame)) {
            points[i] = kNoPlace;
        }
    }
}

}  // namespace linewood
