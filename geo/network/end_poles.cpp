#include "geo/network/end_poles.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

#include "assess/record/release.hpp"
#include "geo/network/pole_grid.hpp"

namespace linewood {
namespace {

bool before(Point a, Point b) { return std::tie(a.x, a.y) < std::tie(b.x, b.y); }

}  // namespace

std::vector<Point> EndPoles::finish(Length snap_tolerance) {
    std::erase_if(ends_, [&](const End& e) { return !is_place(e.on_ground, ground_); });
    std::sort(ends_.begin(), ends_.end(), [](const End& a, const End& b) {
        return before(a.in_layer, b.in_layer);
    });
    std::vector<Point> places;
    std::vector<Point> on_ground;
    std::vector<std::uint32_t> meeting;
    for (const End& end : ends_) {
        if (places.empty() || !(places.back() == end.in_layer)) {
            places.push_back(end.in_layer);
            on_ground.push_back(end.on_ground);
            meeting.push_back(0);
        }
        ++meeting.back();
    }
    release(ends_);
    std::vector<std::uint32_t> order(places.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
        return meeting[a] > meeting[b];
    });
    const double tolerance_m = snap_tolerance.metres() + kSameMetres;
    const PoleGrid grid{ground_, on_ground, 2.0 * tolerance_m};
    std::vector<bool> taken(places.size(), false);
    std::vector<Point> poles;
    std::vector<PoleGrid::Beside> near;
    for (const std::uint32_t i : order) {
        if (taken[i]) {
            continue;
        }
        taken[i] = true;
        poles.push_back(places[i]);
        near.clear();
        grid.beside(on_ground[i], on_ground[i], tolerance_m, near);
        for (const PoleGrid::Beside& other : near) {
            taken[other.pole] = true;
        }
    }
    std::sort(poles.begin(), poles.end(), before);
    return poles;
}

}  // namespace linewood
