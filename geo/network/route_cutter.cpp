#include "geo/network/route_cutter.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>

namespace linewood {
namespace {

/// Two poles no further apart than this along the path stand at the same place of it.
constexpr double kSamePlaceMetres = 0.01;

bool before(const RouteStop& a, const RouteStop& b) {
    return std::tie(a.place.vertex, a.place.fraction) < std::tie(b.place.vertex, b.place.fraction);
}

/// @pre `a` is not after `b`.
bool same_place_along(const DrawnPath& path, PathPlace a, PathPlace b, const Ground& ground) {
    Point from = path.at(a, ground);
    double along = 0.0;
    for (std::size_t i = a.vertex + 1U; i <= b.vertex && along <= kSamePlaceMetres; ++i) {
        along += metres_between(from, path[i], ground);
        from = path[i];
    }
    return along + metres_between(from, path.at(b, ground), ground) <= kSamePlaceMetres;
}

}  // namespace

RouteCutter::RouteCutter(const Ground& ground,
                         const PoleGrid& grid,
                         const NetworkSettings& settings)
    : ground_{ground},
      grid_{grid},
      snap_m_{settings.snap_tolerance.metres()},
      cut_m_{settings.interior_cut.metres()} {}

const std::vector<RouteStop>& RouteCutter::cut(const DrawnPath& path,
                                               EndClaim first,
                                               EndClaim last) {
    assert(path.size() > 0);
    stops_.clear();
    own_vertices(path, first, last);
    add_vertex_stops(path);
    if (last.pole != kNone) {
        stops_.back().pole = last.pole;  // a path of one point may have two names
    }
    if (use_geometry_) {
        add_interior_stops(path, first, last);
    }
    return stops_;
}

void RouteCutter::own_vertices(const DrawnPath& path, EndClaim first, EndClaim last) {
    const std::size_t n = path.size();
    owners_.assign(n, {});
    const bool first_claimed = first.pole != kNone;
    const bool last_claimed = last.pole != kNone;
    if (use_geometry_) {
        const std::size_t end = n - (last_claimed ? 1U : 0U);
        for (std::size_t i = first_claimed ? 1 : 0; i < end; ++i) {
            if (path.is_vertex(i)) {
                owners_[i] = grid_.nearest(path[i], snap_m_);
            }
        }
    }
    if (first_claimed) {
        owners_[0] = {first.pole, 0.0, std::numeric_limits<double>::infinity()};
    }
    if (last_claimed && n > 1) {
        owners_[n - 1] = {last.pole, 0.0, std::numeric_limits<double>::infinity()};
    }
}

void RouteCutter::add_vertex_stops(const DrawnPath& path) {
    const std::size_t n = path.size();
    const auto add = [&](std::size_t vertex) {
        stops_.push_back({{static_cast<std::uint32_t>(vertex), 0.0},
                          owners_[vertex].pole,
                          owners_[vertex].distance_m,
                          owners_[vertex].second_m});
    };
    add(0);
    std::size_t begin = 0;
    while (begin < n) {
        const std::uint32_t pole = owners_[begin].pole;
        std::size_t nearest = begin;
        std::size_t end = begin + 1;
        for (; end < n && owners_[end].pole == pole; ++end) {
            nearest = owners_[end].distance_m < owners_[nearest].distance_m ? end : nearest;
        }
        if (pole != kNone && begin > 0 && end < n) {
            add(nearest);
        }
        begin = end;
    }
    add(n - 1);
}

/// True where the path, while it stays near this pole around the segment, already stops for it; a
/// stop between vertices then moves to this segment if it is nearer here.
bool RouteCutter::stops_already(const DrawnPath& path,
                                std::size_t segment,
                                const PoleGrid::Beside& pole) {
    const double near_m = std::max(snap_m_, cut_m_) + kSameMetres;
    const Point foot = point_between(path[segment], path[segment + 1], pole.fraction, ground_);
    const auto near = [&](std::size_t vertex) {
        // The foot stands for the pole: no further from it than the cut tolerance.
        return metres_between(foot, path[vertex], ground_) <= near_m + pole.distance_m;
    };
    const auto has = [&](std::size_t vertex) { return owners_[vertex].pole == pole.pole; };
    std::size_t first_segment = segment;
    for (std::size_t i = segment + 1; i-- > 0 && near(i);) {
        if (has(i)) {
            return true;
        }
        first_segment = i == 0 ? 0 : i - 1;
    }
    for (std::size_t i = segment + 1; i < path.size() && near(i); ++i) {
        if (has(i)) {
            return true;
        }
    }
    for (auto stop = between_.rbegin();
         stop != between_.rend() && stop->place.vertex >= first_segment;
         ++stop) {
        if (stop->pole == pole.pole) {
            if (pole.distance_m < stop->distance_m - kSameMetres) {
                stop->pole = kNone;
                return false;
            }
            return true;
        }
    }
    return false;
}

/// The stop for a pole beside a segment; nothing where it has the segment's end itself, or is nearest
/// to a vertex that is no place between vertices: an end of the path, or another pole's.
std::optional<RouteStop> RouteCutter::stop_between(const DrawnPath& path,
                                                   std::size_t segment,
                                                   const PoleGrid::Beside& pole) const {
    if (pole.pole == owners_[segment].pole || pole.pole == owners_[segment + 1].pole) {
        return std::nullopt;
    }
    RouteStop stop;
    stop.place = {static_cast<std::uint32_t>(segment), pole.fraction};
    stop.pole = pole.pole;
    stop.distance_m = pole.distance_m;
    if (pole.fraction <= 0.0 || pole.fraction >= 1.0) {
        const std::size_t vertex = segment + (pole.fraction >= 1.0 ? 1U : 0U);
        if (vertex == 0 || vertex + 1 == path.size() || owners_[vertex].pole != kNone) {
            return std::nullopt;
        }
        stop.place = {static_cast<std::uint32_t>(vertex), 0.0};
    }
    return stop;
}

void RouteCutter::add_interior_stops(const DrawnPath& path, EndClaim first, EndClaim last) {
    between_.clear();
    const auto beside_far_end = [&](Point foot) {
        return (first.far && metres_between(foot, path.front(), ground_) <= snap_m_) ||
               (last.far && metres_between(foot, path.back(), ground_) <= snap_m_);
    };
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
        beside_.clear();
        grid_.beside(path[i], path[i + 1], cut_m_, beside_);
        for (const PoleGrid::Beside& pole : beside_) {
            const auto stop = stop_between(path, i, pole);
            if (stop && !stops_already(path, i, pole) &&
                !beside_far_end(path.at(stop->place, ground_))) {
                between_.push_back(*stop);
            }
        }
    }
    std::erase_if(between_, [](const RouteStop& stop) { return stop.pole == kNone; });
    if (!between_.empty()) {
        merge_stops(path);
    }
}

void RouteCutter::merge_stops(const DrawnPath& path) {
    // A vertex stop is at no distance from the path; `between_` stops give way to it.
    for (RouteStop& stop : stops_) {
        stop.distance_m = -1.0;
    }
    stops_.insert(stops_.end(), between_.begin(), between_.end());
    std::stable_sort(stops_.begin(), stops_.end(), before);
    std::size_t kept = 0;
    for (std::size_t i = 1; i < stops_.size(); ++i) {
        RouteStop& last = stops_[kept];
        const RouteStop& next = stops_[i];
        const bool both_have_vertices = last.distance_m < 0.0 && next.distance_m < 0.0;
        const bool same_place = !both_have_vertices && last.pole != kNone && next.pole != kNone &&
                                same_place_along(path, last.place, next.place, ground_);
        if (!same_place) {
            stops_[++kept] = next;
            continue;
        }
        const bool take_next =
            next.distance_m < last.distance_m - kSameMetres ||
            (next.distance_m <= last.distance_m + kSameMetres && next.pole < last.pole);
        const double other = std::max(0.0, take_next ? last.distance_m : next.distance_m);
        if (take_next) {
            last = next;
        }
        last.second_m = std::min(last.second_m, other);
    }
    stops_.resize(kept + 1);
}

}  // namespace linewood
