#include "src/assessed/user_polygons.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <utility>

#include "geo/shape/carried_path.hpp"
#include "geo/shape/outline.hpp"
#include "src/assessed/area_findings.hpp"

namespace linewood {
namespace {

constexpr Point kNoPlace{std::numeric_limits<double>::quiet_NaN(),
                         std::numeric_limits<double>::quiet_NaN()};

bool is_placed(Point p) { return std::isfinite(p.x) && std::isfinite(p.y); }

/// Nothing where the system is not understood, or has no place on the Earth.
std::optional<LayerCrs> placed_system(const std::string& wkt) {
    if (wkt.empty()) {
        return std::nullopt;
    }
    try {
        LayerCrs crs = LayerCrs::from_wkt(wkt);
        return crs.known() ? std::optional{std::move(crs)} : std::nullopt;
    } catch (const GeocentricCrs&) {
        throw;
    } catch (const CrsError&) {
        return std::nullopt;  // GroundFrame says so
    }
}

/// Longitudes and latitudes on WGS 84 to the coordinates of a system: to_wgs84() turned round, step by step, as a datum's
/// shift hardly differs from place to place. NaN where there is no way.
void from_wgs84(const LayerCrs& crs, std::vector<Point>& points) {
    constexpr int kSteps = 4;
    constexpr double kSame = 1e-10;  // degrees: 0.01 mm
    std::vector<Point> aim = points;
    std::vector<Point> at(points.size());
    std::vector<Point> back;
    for (int step = 0; step < kSteps; ++step) {
        for (std::size_t i = 0; i < points.size(); ++i) {
            at[i] = crs.from_ground(aim[i]);
        }
        back = at;
        crs.to_wgs84(back);
        bool all = true;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const double dx = std::remainder(points[i].x - back[i].x, 360.0);
            const double dy = points[i].y - back[i].y;
            const bool same = std::abs(dx) <= kSame && std::abs(dy) <= kSame;
            all = all && (same || !is_placed(back[i]));
            if (!same) {
                aim[i] = {aim[i].x + dx, aim[i].y + dy};
            }
        }
        if (all) {
            break;
        }
    }
    constexpr double kNear = 1e-7;  // 1 cm: outside its area a projection may not come back at all
    for (std::size_t i = 0; i < points.size(); ++i) {
        const bool there = std::abs(std::remainder(points[i].x - back[i].x, 360.0)) <= kNear &&
                           std::abs(points[i].y - back[i].y) <= kNear;
        points[i] = there ? at[i] : kNoPlace;
    }
}

/// Without rings that are none, and polygons without an outer one.
Polygons with_rings(const Polygons& area) {
    Polygons out;
    for (const PolygonRings& rings : area) {
        PolygonRings kept;
        for (std::size_t i = 0; i < rings.size(); ++i) {
            const bool whole =
                rings[i].size() > 2 && std::all_of(rings[i].begin(), rings[i].end(), is_placed);
            if (whole) {
                kept.push_back(rings[i]);
            } else if (i == 0) {
                break;
            }
        }
        if (!kept.empty()) {
            out.push_back(std::move(kept));
        }
    }
    return out;
}

}  // namespace

UserPolygons::UserPolygons(const AssessedData& data,
                           const LayerSchema& layer,
                           double plane_metres_per_unit)
    : data_{data}, layer_{layer.name} {
    Findings findings;
    ground_ = std::make_unique<GroundFrame>(
        data.poles_crs_wkt, &layer.crs_wkt, plane_metres_per_unit, findings);
    doubts_ = doubts_of_layer(findings, layer_);
    const std::optional<LayerCrs> of_poles = placed_system(data.poles_crs_wkt);
    std::optional<LayerCrs> own = placed_system(layer.crs_wkt);
    const bool two_systems = of_poles && own && of_poles->name() != own->name();
    // Where only one of the two layers states a system, that one is both's.
    const LayerCrs* const both = own ? &*own : of_poles ? &*of_poles : nullptr;
    if (both != nullptr && both->geographic()) {
        once_round_ = 360.0 * std::abs(both->from_ground({1.0, 0.0}).x - both->from_ground({}).x);
    }
    if (two_systems) {
        crs_ = std::move(own);
    }
    place_poles(two_systems);
}

/// A place far from the poles may have no coordinates in their layer, or others' coordinates. (Own choice; half a
/// continent.)
bool UserPolygons::is_near(Point metric) const {
    constexpr double kFar = 3e6;
    return is_placed(metric) && std::hypot(metric.x - some_pole_.x, metric.y - some_pole_.y) < kFar;
}

void UserPolygons::place_poles(bool two_systems) {
    places_.reserve(data_.poles.size());
    for (std::uint32_t pole = 0; pole < data_.poles.size(); ++pole) {
        some_pole_ = data_.poles.has_place(pole) ? data_.poles.places[pole] : some_pole_;
        places_.push_back(data_.layer_point(pole).value_or(kNoPlace));
    }
    if (two_systems) {
        ground_->poles_to_ground(places_);
        from_wgs84(*crs_, places_);
    }
}

void UserPolygons::note(const FindingKind& kind, const std::string& id) {
    Finding f = make_finding(kind, InputLayer::poles, -1, "geometry", "");
    f.feature = id;
    doubts_.push_back({layer_, std::move(f)});
}

void UserPolygons::note_missing(const std::string& id) { note(finding::kAreaMissing, id); }

std::uint32_t UserPolygons::add(const Polygons& area, const std::string& id) {
    bool was_valid = true;
    Polygons mended = made_valid(with_rings(area), was_valid);
    if (!(area_of(mended) > 0.0)) {
        mended.clear();
        note(finding::kAreaWithoutSize, id);
    } else if (!was_valid) {
        ++mended_;
        note(finding::kAreaCrossesItself, id);
    }
    areas_.push_back(std::move(mended));
    ids_.push_back(id);
    return static_cast<std::uint32_t>(areas_.size() - 1);
}

void UserPolygons::complete() { lookup_.emplace(areas_); }

std::vector<std::uint32_t> UserPolygons::areas_of(std::uint32_t pole) const {
    const Point at = places_[pole];
    std::vector<std::uint32_t> found = lookup_->areas_at(at);
    if (once_round_ > 0.0) {
        for (const double turn : {-once_round_, once_round_}) {
            const auto more = lookup_->areas_at({at.x + turn, at.y});
            found.insert(found.end(), more.begin(), more.end());
        }
        std::sort(found.begin(), found.end());
        found.erase(std::unique(found.begin(), found.end()), found.end());
    }
    return found;
}

Polygons UserPolygons::outline(std::uint32_t area) {
    constexpr double kTolerance = 1.0;
    bool whole = true;
    const auto to_metres = [this, &whole](Point p) {
        std::array<Point, 1> one{p};
        ground_->spans_to_ground(one);
        data_.frame->from_ground(one);
        whole = whole && is_near(one[0]);
        return one[0];
    };
    Polygons out;
    for (const PolygonRings& rings : areas_[area]) {
        PolygonRings carried;
        for (const auto& ring : rings) {
            carried.push_back(carried_path(ring, true, kTolerance, to_metres));
        }
        out.push_back(std::move(carried));
    }
    if (!whole) {
        note(finding::kAreaNotDrawn, ids_[area]);
        return {};
    }
    return with_rings(out);
}

}  // namespace linewood
