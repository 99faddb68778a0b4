#include "geo/network/network_builder.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <cmath>
#include <limits>
#include <optional>
#include <unordered_map>
#include <utility>
#include <vector>

#include "geo/network/drawn_path.hpp"
#include "geo/network/line_quality.hpp"
#include "geo/network/named_ends.hpp"
#include "geo/network/nearest_line.hpp"
#include "geo/network/part_order.hpp"
#include "geo/network/pole_grid.hpp"
#include "geo/network/route_cutter.hpp"
#include "geo/network/snap_tally.hpp"
#include "geo/network/span_course.hpp"

namespace linewood {
namespace {

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();
/// A path shorter than this has no length.
constexpr double kZeroMetres = 0.001;

double reach_of(const NetworkSettings& settings) {
    return 2.0 * std::max({settings.snap_tolerance.metres(),
                           settings.interior_cut.metres(),
                           settings.nearest_line ? settings.nearest_line.value().metres() : 0.0});
}

DrawnPath path_of(const SpanFeature& feature, std::uint32_t part, bool backwards) {
    return {feature.parts[part],
            backwards,
            feature.places.empty() ? std::span<const PathPlace>{} : feature.places[part]};
}

Doubt doubt_about(const NetworkFindingCode& code, const SpanFeature& feature) {
    Doubt doubt;
    doubt.code = &code;
    doubt.row = feature.row;
    doubt.place.x = kNoNumber;
    return doubt;
}

}  // namespace

class NetworkBuilder::Work {
public:
    Work(const Ground& ground, std::span<const Point> poles, const NetworkSettings& settings);
    void add(const SpanFeature& feature);
    Network finish();

private:
    /// A span being made, before it is stored.
    struct Made {
        std::uint32_t from = kNone;
        std::uint32_t to = kNone;
        std::uint32_t path = ResolvedSpan::kWholeFeature;
        bool backwards = false;
        SpanCourse course;
        EndEvidence from_end;
        EndEvidence to_end;
        Point place{kNoNumber, kNoNumber};  ///< for doubts: where it begins
    };

    void sort_parts(const SpanFeature& feature);
    void note_unknown(const SpanFeature& feature, Point first, Point last);
    void add_undrawn(const SpanFeature& feature);
    void add_part(const SpanFeature& feature,
                  std::uint32_t part,
                  const NamedEnds& ends,
                  const std::vector<RouteStop>& stops);
    EndEvidence evidence_of(const RouteStop& stop, const EndClaim& claim) const;
    void tally_ends(const SpanFeature& feature,
                    const DrawnPath& path,
                    const std::vector<RouteStop>& stops,
                    const NamedEnds& ends);
    double look_around(Point end);
    PoleGrid::Nearest nearest_of_any(Point end) const;
    void add_unusable(const SpanFeature& feature);
    void store(const SpanFeature& feature, const Made& made);
    void doubt_stops(const SpanFeature& feature,
                     const DrawnPath& path,
                     const std::vector<RouteStop>& stops);
    std::uint32_t store_cut(std::uint32_t part,
                            const DrawnPath& path,
                            PathPlace begin,
                            PathPlace end);
    std::uint32_t service_of(const SpanFeature& feature);
    std::optional<Point> own_point(std::uint32_t pole) const;
    void take_nearest_lines();

    Ground ground_;
    std::span<const Point> poles_;
    NetworkSettings settings_;
    std::optional<PoleGrid> grid_;
    bool too_dense_;
    RouteCutter cutter_;
    NameJudge judge_;
    SpanSurveyor surveyor_;
    std::optional<NearestLine> nearest_line_;
    Network network_;
    std::array<std::unordered_map<std::uint64_t, std::uint32_t>, 3> service_index_;  ///< by kind
    std::vector<std::uint32_t> usable_;
    std::vector<std::uint32_t> unusable_;
    std::vector<Point> piece_;
};

NetworkBuilder::Work::Work(const Ground& ground,
                           std::span<const Point> poles,
                           const NetworkSettings& settings)
    : ground_{ground},
      poles_{poles},
      settings_{settings},
      grid_{std::in_place, ground, poles, reach_of(settings)},
      too_dense_{grid_->too_dense(settings.snap_tolerance.metres())},
      cutter_{ground, *grid_, settings},
      judge_{ground, poles, too_dense_ ? nullptr : &*grid_, settings},
      surveyor_{ground, settings.snap_tolerance} {
    if (too_dense_) {
        cutter_.use_geometry(false);
        Doubt doubt;
        doubt.code = &kFindingPolesTooDense;
        doubt.place.x = kNoNumber;
        network_.doubts_.add(doubt);
    }
    if (settings.nearest_line) {
        nearest_line_.emplace(ground, poles, *grid_, settings.nearest_line.value().metres());
    }
    network_.directions_.resize(poles.size());
    network_.trusts_.resize(poles.size());
    network_.loose_end_near_.resize(poles.size());
    network_.pair_limit_ = settings.junction_pair_limit;
}

void NetworkBuilder::Work::sort_parts(const SpanFeature& feature) {
    usable_.clear();
    unusable_.clear();
    for (std::size_t i = 0; i < feature.parts.size(); ++i) {
        const auto part = feature.parts[i];
        if (!part.empty()) {
            const bool usable = std::all_of(
                part.begin(), part.end(), [&](Point p) { return is_place(p, ground_); });
            (usable ? usable_ : unusable_).push_back(static_cast<std::uint32_t>(i));
        }
    }
}

void NetworkBuilder::Work::add(const SpanFeature& feature) {
    sort_parts(feature);
    if (usable_.empty()) {
        constexpr Point kNowhere{kNoNumber, kNoNumber};
        note_unknown(feature, kNowhere, kNowhere);
        add_undrawn(feature);
        return;
    }
    if (feature.from.index != kNone || feature.to.index != kNone) {
        // The names are of the ends of the line, not of what happens to be drawn first and last.
        order_parts(
            feature.parts, settings_.snap_tolerance.metres() + kSameMetres, ground_, usable_);
    }
    const Point first = feature.parts[usable_.front()].front();
    const Point last = feature.parts[usable_.back()].back();
    if (!unusable_.empty()) {
        Doubt doubt = doubt_about(kFindingSpanCoordinatesInvalid, feature);
        doubt.place = first;
        network_.doubts_.add(doubt);
    }
    const NamedEnds ends = judge_.judge(feature, first, last, network_.doubts_);
    note_unknown(feature, ends.backwards ? last : first, ends.backwards ? first : last);
    if (ends.backwards) {
        std::reverse(usable_.begin(), usable_.end());
    }
    for (std::size_t i = 0; i < usable_.size(); ++i) {
        const DrawnPath path = path_of(feature, usable_[i], ends.backwards);
        const NamedEnds of_part{ends.backwards,
                                i == 0 ? ends.from : EndClaim{},
                                i + 1 == usable_.size() ? ends.to : EndClaim{}};
        add_part(feature, usable_[i], of_part, cutter_.cut(path, of_part.from, of_part.to));
        if (nearest_line_ && feature.kind == SpanKind::line) {
            nearest_line_->pass(feature.parts[usable_[i]], feature.row);
        }
    }
    add_unusable(feature);
}

/// @param first where the path begins, the way it runs; @param last where it ends.
void NetworkBuilder::Work::note_unknown(const SpanFeature& feature, Point first, Point last) {
    for (const SpanEnd end : {SpanEnd::from, SpanEnd::to}) {
        const NamedPole& named = end == SpanEnd::from ? feature.from : feature.to;
        assert(named.index == kNone || named.index < poles_.size());
        if (named.unknown) {
            Doubt doubt = doubt_about(kFindingSpanPoleUnknown, feature);
            doubt.end = end;
            doubt.place = end == SpanEnd::from ? first : last;
            network_.doubts_.add(doubt, named.text);
        }
    }
}

void NetworkBuilder::Work::add_undrawn(const SpanFeature& feature) {
    ++network_.tally_.features_without_path;
    Made made;
    made.from = feature.from.index;
    made.to = feature.to.index;
    const auto from = own_point(made.from);
    const auto to = own_point(made.to);
    made.place = from ? *from : to.value_or(made.place);
    for (const std::uint32_t part : unusable_) {
        const auto drawn = feature.parts[part];
        const auto valid =
            std::find_if(drawn.begin(), drawn.end(), [&](Point p) { return is_place(p, ground_); });
        if (valid != drawn.end()) {
            made.place = *valid;
            break;
        }
    }
    if (!feature.drawing_told) {
        Doubt doubt = doubt_about(
            unusable_.empty() ? kFindingSpanWithoutGeometry : kFindingSpanCoordinatesInvalid,
            feature);
        doubt.place = made.place;
        network_.doubts_.add(doubt);
    }
    if (from && to) {
        piece_ = {*from, *to};
        made.course = surveyor_.measure(piece_, *from, *to);
    }
    made.from_end.named = made.to_end.named = true;
    store(feature, made);
}

void NetworkBuilder::Work::add_part(const SpanFeature& feature,
                                    std::uint32_t part,
                                    const NamedEnds& ends,
                                    const std::vector<RouteStop>& stops) {
    const DrawnPath path = path_of(feature, part, ends.backwards);
    doubt_stops(feature, path, stops);
    tally_ends(feature, path, stops, ends);
    const bool whole = stops.size() == 2 && usable_.size() == 1 && unusable_.empty();
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
        Made made;
        made.from = stops[i].pole;
        made.to = stops[i + 1].pole;
        made.backwards = ends.backwards;
        made.from_end = evidence_of(stops[i], i == 0 ? ends.from : EndClaim{});
        made.to_end = evidence_of(stops[i + 1], i + 2 == stops.size() ? ends.to : EndClaim{});
        if (!whole) {
            made.path = store_cut(part, path, stops[i].place, stops[i + 1].place);
        }
        path.piece(stops[i].place, stops[i + 1].place, ground_, piece_);
        made.place = piece_.front();
        made.course = surveyor_.measure(piece_,
                                        own_point(made.from).value_or(piece_.front()),
                                        own_point(made.to).value_or(piece_.back()));
        store(feature, made);
    }
}

EndEvidence NetworkBuilder::Work::evidence_of(const RouteStop& stop, const EndClaim& claim) const {
    EndEvidence end;
    end.named = claim.pole != kNone;
    end.off_m = end.named ? claim.off_m : stop.distance_m;
    end.rival_m = stop.second_m;
    end.placed = own_point(stop.pole).has_value();
    return end;
}

/// Counts the two ends of a part.
void NetworkBuilder::Work::tally_ends(const SpanFeature& feature,
                                      const DrawnPath& path,
                                      const std::vector<RouteStop>& stops,
                                      const NamedEnds& ends) {
    SnapTally& tally = network_.tally_;
    const bool both_free = stops.front().pole == kNone && stops.back().pole == kNone;
    const auto add = [&](const RouteStop& stop, const EndClaim& claim) {
        if (claim.pole != kNone && !own_point(claim.pole)) {
            ++tally.named_without_place;
        } else if (claim.pole != kNone) {
            tally.by_name.add(claim.off_m);
        } else if (stop.pole != kNone) {
            tally.by_place.add(stop.distance_m);
        } else {
            const double away = nearest_of_any(path[stop.place.vertex]).distance_m;
            (feature.kind == SpanKind::line || both_free ? tally.left_over : tally.free_by_kind)
                .add(away);
        }
    };
    add(stops.front(), ends.from);
    add(stops.back(), ends.to);
    tally.cuts += static_cast<std::int64_t>(stops.size()) - 2;
}

/// The nearest pole of a place that has none within the snap tolerance, as far as the report looks.
PoleGrid::Nearest NetworkBuilder::Work::nearest_of_any(Point end) const {
    return too_dense_ ? PoleGrid::Nearest{} : grid_->nearest(end, SnapTally::kReach);
}

/// Marks the pole near a span end that belongs to none. @return its distance; negative: none near.
double NetworkBuilder::Work::look_around(Point end) {
    const PoleGrid::Nearest near = nearest_of_any(end);
    if (near.pole == kNone) {
        return -1.0;
    }
    network_.loose_end_near_[near.pole] = true;
    return near.distance_m;
}

/// Parts with bad coordinates beside usable ones: kept, without a pole at either end.
void NetworkBuilder::Work::add_unusable(const SpanFeature& feature) {
    for (const std::uint32_t part : unusable_) {
        const DrawnPath path = path_of(feature, part, false);
        Made made;
        made.path = store_cut(part, path, {}, {static_cast<std::uint32_t>(path.size() - 1), 0.0});
        store(feature, made);
    }
}

std::uint32_t NetworkBuilder::Work::store_cut(std::uint32_t part,
                                              const DrawnPath& path,
                                              PathPlace begin,
                                              PathPlace end) {
    PathCut cut{part, path.as_drawn(begin), path.as_drawn(end)};
    if (std::pair(cut.end.vertex, cut.end.fraction) <
        std::pair(cut.begin.vertex, cut.begin.fraction)) {
        std::swap(cut.begin, cut.end);
    }
    assert(network_.cuts_.size() < ResolvedSpan::kWholeFeature);
    network_.cuts_.push_back(cut);
    return static_cast<std::uint32_t>(network_.cuts_.size() - 1);
}

std::optional<Point> NetworkBuilder::Work::own_point(std::uint32_t pole) const {
    if (pole == kNone || !is_place(poles_[pole], ground_)) {
        return std::nullopt;
    }
    return poles_[pole];
}

void NetworkBuilder::Work::store(const SpanFeature& feature, const Made& made) {
    ResolvedSpan span;
    span.from = made.from;
    span.to = made.to;
    span.length_m = made.course.length_m;
    if (!std::isnan(made.course.azimuth)) {
        span.azimuth = Bearing::degrees(made.course.azimuth);
    }
    span.row = feature.row;
    span.path = made.path & ResolvedSpan::kWholeFeature;
    span.drawn_backwards = made.backwards ? 1U : 0U;
    network_.spans_.push_back(span);
    network_.back_azimuths_.push_back(made.course.back_azimuth);
    network_.service_of_.push_back(service_of(feature));
    const PlacingLimits limits{settings_.snap_tolerance, settings_.coordinate_step};
    network_.span_doubts_.push_back(
        {span_doubt(made.from_end, made.to_end, made.course.reach_m, limits),
         span_doubt(made.to_end, made.from_end, made.course.back_reach_m, limits)});
    if (feature.kind == SpanKind::line && (made.from == kNone) != (made.to == kNone)) {
        network_.loose_end_near_[made.from == kNone ? made.to : made.from] = true;
    }
    const bool no_length = made.course.length_m < kZeroMetres;
    if (no_length || (made.from == made.to && made.from != kNone)) {
        Doubt doubt =
            doubt_about(no_length ? kFindingSpanZeroLength : kFindingSpanClosesOnItself, feature);
        doubt.place = made.place;
        doubt.pole = made.from;
        if (no_length) {
            doubt.metres = static_cast<float>(made.course.length_m);
        }
        network_.doubts_.add(doubt);
    }
}

void NetworkBuilder::Work::doubt_stops(const SpanFeature& feature,
                                       const DrawnPath& path,
                                       const std::vector<RouteStop>& stops) {
    // A service ends at a house and a guy at its anchor: one end without a pole is as it should be.
    const bool one_end_is_enough = feature.kind != SpanKind::line;
    const bool any_pole = std::any_of(
        stops.begin(), stops.end(), [](const RouteStop& stop) { return stop.pole != kNone; });
    for (std::size_t i = 0; i < stops.size(); ++i) {
        const RouteStop& stop = stops[i];
        const bool ambiguous = stop.pole != kNone && std::isfinite(stop.second_m);
        const bool unsnapped = stop.pole == kNone && !(one_end_is_enough && any_pole);
        if (!ambiguous && !unsnapped) {
            continue;
        }
        Doubt doubt =
            doubt_about(unsnapped ? kFindingSpanEndUnsnapped : kFindingSnapAmbiguous, feature);
        doubt.place = path[stop.place.vertex];
        if (ambiguous) {
            doubt.metres = static_cast<float>(stop.second_m);
            doubt.pole = stop.pole;
        }
        if (i == 0 || i + 1 == stops.size()) {
            doubt.end = i == 0 ? SpanEnd::from : SpanEnd::to;
        }
        if (unsnapped) {
            doubt.metres = static_cast<float>(look_around(doubt.place));
        }
        network_.doubts_.add(doubt);
    }
}

std::uint32_t NetworkBuilder::Work::service_of(const SpanFeature& feature) {
    const float voltage = std::isnan(feature.voltage_kv) ? std::numeric_limits<float>::quiet_NaN()
                                                         : feature.voltage_kv;
    auto& services = network_.services_;
    const auto same = [&](const LineService& s) {
        return s.circuit == feature.circuit && s.kind == feature.kind &&
               std::bit_cast<std::uint32_t>(s.voltage_kv) == std::bit_cast<std::uint32_t>(voltage);
    };
    if (!network_.service_of_.empty() && same(services[network_.service_of_.back()])) {
        return network_.service_of_.back();
    }
    const std::uint64_t key =
        (std::uint64_t{feature.circuit} << 32U) | std::bit_cast<std::uint32_t>(voltage);
    const auto [at, added] = service_index_[static_cast<std::size_t>(feature.kind)].try_emplace(
        key, static_cast<std::uint32_t>(services.size()));
    if (added) {
        services.push_back({feature.circuit, voltage, feature.kind});
    }
    return at->second;
}

void NetworkBuilder::Work::take_nearest_lines() {
    for (std::size_t pole = 0; pole < poles_.size(); ++pole) {
        LineDirection& line = network_.directions_[pole];
        if (line.role != LineRole::isolated) {
            continue;
        }
        if (const auto passing = nearest_line_->at(pole)) {
            line.axis = passing->axis;
            line.role = LineRole::tangent;
            line.source = LineSource::nearest_line;
            network_.trusts_[pole] = nearest_line_trust(passing->open_degrees);
        }
    }
}

Network NetworkBuilder::Work::finish() {
    if (!nearest_line_) {
        grid_.reset();
    }
    network_.join();
    network_.direct(settings_, {ground_, poles_});
    if (nearest_line_) {
        take_nearest_lines();
    }
    network_.doubts_.sort();
    return std::move(network_);
}

NetworkBuilder::NetworkBuilder(const Ground& ground,
                               std::span<const Point> poles,
                               const NetworkSettings& settings)
    : work_{std::make_unique<Work>(ground, poles, settings)} {}
NetworkBuilder::~NetworkBuilder() = default;
NetworkBuilder::NetworkBuilder(NetworkBuilder&& other) noexcept = default;
NetworkBuilder& NetworkBuilder::operator=(NetworkBuilder&& other) noexcept = default;

void NetworkBuilder::add(const SpanFeature& feature) {
    assert(work_);
    work_->add(feature);
}

Network NetworkBuilder::finish() {
    assert(work_);
    const auto work = std::move(work_);
    return work->finish();
}

}  // namespace linewood
