#include "geo/network/network.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

#include "assess/record/release.hpp"
#include "geo/network/pole_grid.hpp"

namespace linewood {

Point Network::PoleMap::middle(const ResolvedSpan& span) const {
    const auto has_place = [&](std::uint32_t pole) {
        return pole != kNone && is_place(poles[pole], ground);
    };
    if (has_place(span.from) && has_place(span.to)) {
        return point_between(poles[span.from], poles[span.to], 0.5, ground);
    }
    if (has_place(span.from) || has_place(span.to)) {
        return poles[has_place(span.from) ? span.from : span.to];
    }
    return {std::numeric_limits<double>::quiet_NaN(), 0.0};
}

bool Network::makes_neighbours(std::size_t span) const {
    const ResolvedSpan& s = spans_[span];
    return s.from != kNone && s.to != kNone && s.from != s.to && s.azimuth &&
           !std::isnan(back_azimuths_[span]) && service(span).kind == SpanKind::line;
}

/// Lists at each pole the spans that make neighbours.
void Network::join() {
    assert(spans_.size() < kNone / 2U);
    first_arc_.assign(directions_.size() + 1, 0);
    for (std::size_t i = 0; i < spans_.size(); ++i) {
        if (makes_neighbours(i)) {
            ++first_arc_[spans_[i].from];
            ++first_arc_[spans_[i].to];
        }
    }
    std::uint32_t sum = 0;
    for (std::uint32_t& first : first_arc_) {
        sum += first;
        first = sum;
    }
    arcs_.resize(sum);
    for (std::size_t i = spans_.size(); i-- > 0;) {
        if (makes_neighbours(i)) {
            const auto arc = static_cast<std::uint32_t>(2U * i);
            arcs_[--first_arc_[spans_[i].to]] = arc + 1U;
            arcs_[--first_arc_[spans_[i].from]] = arc;
        }
    }
}

LineArc Network::arc_of(std::uint32_t half_span) const {
    const std::uint32_t span = half_span / 2U;
    const bool leaves = half_span % 2U == 0U;
    const ResolvedSpan& s = spans_[span];
    const LineService& carried = service(span);
    LineArc arc;
    arc.neighbour = leaves ? s.to : s.from;
    arc.span = span;
    arc.azimuth = leaves ? s.azimuth.value() : Bearing::degrees(back_azimuths_[span]);
    arc.length_m = s.length_m;
    arc.circuit = carried.circuit;
    arc.voltage_kv = carried.voltage_kv;
    arc.leaves = leaves;
    return arc;
}

void Network::collect_arcs(std::size_t pole, std::vector<LineArc>& arcs) const {
    arcs.clear();
    for (std::uint32_t i = first_arc_[pole]; i < first_arc_[pole + 1]; ++i) {
        arcs.push_back(arc_of(arcs_[i]));
    }
}

/// @param arcs those of one pole, sorted by neighbour.
void Network::note_doubled(std::size_t pole, const std::vector<LineArc>& arcs, const PoleMap& map) {
    for (std::size_t begin = 0; begin < arcs.size();) {
        std::size_t end = begin;
        std::uint32_t first = arcs[begin].span;
        for (; end < arcs.size() && arcs[end].neighbour == arcs[begin].neighbour; ++end) {
            first = std::min(first, arcs[end].span);
        }
        for (std::size_t i = begin; i < end && arcs[begin].neighbour > pole; ++i) {
            if (arcs[i].span != first) {
                Doubt doubt;
                doubt.code = &kFindingSpanDoubled;
                doubt.row = spans_[arcs[i].span].row;
                doubt.pole = spans_[arcs[i].span].from;
                doubt.other = spans_[arcs[i].span].to;
                doubt.place = map.middle(spans_[arcs[i].span]);
                doubts_.add(doubt);
            }
        }
        begin = end;
    }
}

void Network::direct(const NetworkSettings& settings, const PoleMap& map) {
    std::vector<LineArc> arcs;
    std::vector<Neighbour> neighbours;
    for (std::size_t pole = 0; pole < directions_.size(); ++pole) {
        collect_arcs(pole, arcs);
        gather_neighbours(arcs, neighbours);
        if (neighbours.size() < arcs.size()) {
            note_doubled(pole, arcs, map);
        }
        const LineChoice choice = choose_line(neighbours, settings);
        directions_[pole] = choice.line;
        trusts_[pole] = trust_of(pole, neighbours, choice, settings);
        if (loose_end_near_[pole]) {
            // It would turn a dead end into something else; a pair of spans most often stays.
            trusts_[pole] = worsened(trusts_[pole],
                                     choice.line.role == LineRole::dead_end ? 90.0 : kFairDegrees,
                                     QualityReason::line_unsnapped_nearby);
        }
    }
    release(span_doubts_);
    release(loose_end_near_);
    note_long_spans(map);
}

LineTrust Network::trust_of(std::size_t pole,
                            std::span<const Neighbour> neighbours,
                            const LineChoice& choice,
                            const NetworkSettings& settings) const {
    if (neighbours.empty()) {
        return {
            LineQuality::none,
            loose_end_near_[pole] ? QualityReason::line_unsnapped_nearby : QualityReason::no_spans};
    }
    if (!choice.line.axis) {
        return {LineQuality::none, QualityReason::no_straight_pair};
    }
    const SpanDoubt first = doubt_at(pole, neighbours[choice.first]);
    if (neighbours.size() == 1) {
        return axis_trust(first);
    }
    const LineTrust trust = axis_trust(first, doubt_at(pole, neighbours[choice.second]));
    if (neighbours.size() == 2) {
        return trust;
    }
    return worsened(
        trust,
        rival_pair_degrees(neighbours, choice.first, choice.second, settings.tangent_limit),
        QualityReason::equal_pairs);
}

LengthQuantiles Network::lengths() const {
    std::vector<double> lengths;
    lengths.reserve(spans_.size());
    for (std::size_t i = 0; i < spans_.size(); ++i) {
        if (makes_neighbours(i)) {
            lengths.push_back(spans_[i].length_m);
        }
    }
    return length_quantiles(lengths);
}

void Network::note_long_spans(const PoleMap& map) {
    const double limit = kLongSpanTimes * lengths().p95();
    for (std::size_t i = 0; i < spans_.size(); ++i) {
        if (makes_neighbours(i) && spans_[i].length_m > limit) {
            Doubt doubt;
            doubt.code = &kFindingSpanLong;
            doubt.row = spans_[i].row;
            doubt.metres = static_cast<float>(spans_[i].length_m);
            doubt.place = map.middle(spans_[i]);
            doubts_.add(doubt);
        }
    }
}

SpanDoubt Network::doubt_at(std::size_t pole, const Neighbour& neighbour) const {
    return span_doubts_[neighbour.span][spans_[neighbour.span].from == pole ? 0 : 1];
}

std::vector<Neighbour> Network::neighbours(std::size_t pole) const {
    assert(pole < pole_count());
    std::vector<LineArc> arcs;
    std::vector<Neighbour> found;
    collect_arcs(pole, arcs);
    gather_neighbours(arcs, found);
    return found;
}

std::optional<Bearing> Network::ahead(std::size_t pole) const {
    return line_ahead(neighbours(pole), pair_limit_);
}

std::optional<Bearing> Network::ahead_by_station(std::size_t pole,
                                                 std::span<const double> stations) const {
    if (stations.empty()) {
        return std::nullopt;
    }
    assert(stations.size() == pole_count());
    return rising_ahead(neighbours(pole), stations[pole], stations, pair_limit_);
}

void Network::drop_neighbours() {
    release(back_azimuths_);
    release(first_arc_);
    release(arcs_);
    release(service_of_);
}

void Network::each_finding(const std::function<void(Finding&&)>& take, const PoleName& name) const {
    doubts_.each(take, name);
}

Findings Network::findings() const {
    Findings all;
    all.reserve(doubts_.size());
    each_finding([&](Finding&& finding) { all.push_back(std::move(finding)); });
    return all;
}

}  // namespace linewood
