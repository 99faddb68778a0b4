#include "src/pipeline/ground_frame.hpp"

#include <optional>

#include "src/pipeline/input_findings.hpp"

namespace linewood {
namespace {

/// WGS 84 as defined: NGA.STND.0036 (from memory; PROJ has the same figures).
constexpr double kWgs84SemiMajor = 6378137.0;
constexpr double kWgs84Flattening = 1.0 / 298.257223563;

/// The layer's system, or a plane where it states none or one that cannot be used.
LayerCrs read_crs(const std::string& wkt, double metres_per_unit, InputLayer layer, Findings& out) {
    if (wkt.empty()) {
        return LayerCrs::none(metres_per_unit);
    }
    try {
        return LayerCrs::from_wkt(wkt);
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
    const bool has_spans = spans_wkt != nullptr;
    if (!poles_.known() && has_spans && spans_.known()) {
        findings.push_back(
            make_finding(finding::kCrsAssumed, InputLayer::poles, -1, "crs", spans_.name()));
        poles_ = LayerCrs::from_wkt(*spans_wkt);
    } else if (poles_.known() && has_spans && !spans_.known()) {
        findings.push_back(
            make_finding(finding::kCrsAssumed, InputLayer::spans, -1, "crs", poles_.name()));
        spans_ = LayerCrs::from_wkt(poles_wkt);
    } else if (!poles_.known() && poles_wkt.empty()) {
        findings.push_back(make_finding(finding::kCrsUnknown, InputLayer::poles, -1, "crs", ""));
    }
    by_wgs84_ = has_spans && poles_.known() && spans_.known() && poles_.name() != spans_.name();
    ground_ = by_wgs84_ ? Ground::geodesic(kWgs84SemiMajor, kWgs84Flattening) : poles_.ground();
}

void GroundFrame::poles_to_ground(std::span<Point> points) const {
    by_wgs84_ ? poles_.to_wgs84(points) : poles_.to_ground(points);
}

void GroundFrame::spans_to_ground(std::span<Point> points) const {
    by_wgs84_ ? spans_.to_wgs84(points) : spans_.to_ground(points);
}

}  // namespace linewood
