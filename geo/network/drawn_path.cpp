#include "geo/network/drawn_path.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "geo/network/pole_grid.hpp"

namespace linewood {
namespace {

/// A path that stays within a centimetre, or a hundredth of a degree, of straight is straight.
constexpr double kStraightMetres = 0.01;
constexpr double kStraightRadians = 0.01 * std::numbers::pi / 180.0;

/// The directions from a start in which a straight line still passes every point so far as near as
/// `within_m`: narrows with every point, so a long path is judged in one pass.
class StraightAhead {
public:
    StraightAhead(Point start, double within_m, const Ground& ground)
        : start_{start}, within_m_{within_m}, ground_{ground}, scale_{ground.scale_at(start)} {}

    /// Takes the next point of the path; false, where the path has left the straight line before it.
    bool goes_on_to(Point p) {
        const double dx = ground_.x_step(start_.x, p.x) * scale_.x_m;
        const double dy = (p.y - start_.y) * scale_.y_m;
        const double distance = std::hypot(dx, dy);
        if (distance < furthest_m_ - within_m_) {
            return false;
        }
        furthest_m_ = std::max(furthest_m_, distance);
        if (distance <= within_m_) {
            return true;
        }
        const double direction = std::atan2(dx, dy);
        if (!begun_) {
            begun_ = true;
            first_ = direction;
        }
        const double turn = std::remainder(direction - first_, 2.0 * std::numbers::pi);
        if (turn < low_ || turn > high_) {
            return false;
        }
        const double give = std::max(kStraightRadians, std::asin(within_m_ / distance));
        low_ = std::max(low_, turn - give);
        high_ = std::min(high_, turn + give);
        return true;
    }

private:
    Point start_;
    double within_m_;
    const Ground& ground_;
    Ground::Scale scale_;
    bool begun_ = false;
    double first_ = 0.0;
    double low_ = -std::numbers::pi;
    double high_ = std::numbers::pi;
    double furthest_m_ = 0.0;
};

/// Of `p` from the straight line through two places, in the plane touching at the first.
double metres_beside(Point p, Point from, Point to, const Ground& ground) {
    const Ground::Scale scale = ground.scale_at(from);
    const double dx = ground.x_step(from.x, to.x) * scale.x_m;
    const double dy = (to.y - from.y) * scale.y_m;
    const double px = ground.x_step(from.x, p.x) * scale.x_m;
    const double py = (p.y - from.y) * scale.y_m;
    const double length = std::hypot(dx, dy);
    return length > 0.0 ? std::abs(dx * py - dy * px) / length : std::hypot(px, py);
}

}  // namespace

PathPlace DrawnPath::as_drawn(PathPlace place) const {
    if (!backwards_) {
        return by_vertices(place);
    }
    const auto last = static_cast<std::uint32_t>(drawn_.size() - 1);
    const double fraction = 1.0 - place.fraction;
    if (place.fraction > 0.0 && fraction < 1.0) {
        return by_vertices({last - place.vertex - 1, fraction});
    }
    return by_vertices({last - place.vertex, 0.0});
}

/// @param place counted by points, in the order drawn.
PathPlace DrawnPath::by_vertices(PathPlace place) const {
    if (places_.empty()) {
        return place;
    }
    const PathPlace before = places_[place.vertex];
    if (!(place.fraction > 0.0)) {
        return before;
    }
    const PathPlace after = places_[place.vertex + 1U];
    const double end = after.vertex == before.vertex ? after.fraction : 1.0;
    const double fraction = before.fraction + place.fraction * (end - before.fraction);
    return fraction < 1.0 ? PathPlace{before.vertex, fraction} : PathPlace{before.vertex + 1U, 0.0};
}

double metres_between(Point a, Point b, const Ground& ground) {
    constexpr double kNear = 1000.0;
    const Ground::Scale scale = ground.scale_at(a);
    const double distance =
        std::hypot(ground.x_step(a.x, b.x) * scale.x_m, (b.y - a.y) * scale.y_m);
    return distance <= kNear || ground.is_planar() ? distance : ground.course(a, b).length_m;
}

Point first_bend(std::span<const Point> piece,
                 Point from,
                 Point to,
                 Length snap_tolerance,
                 const Ground& ground) {
    // The ends, and the points near either pole, belong to it.
    const auto at_pole = [&](Point pole, Point p) {
        return metres_between(pole, p, ground) <= snap_tolerance.metres() + kSameMetres;
    };
    std::size_t first = 1;
    while (first < piece.size() && at_pole(from, piece[first])) {
        ++first;
    }
    std::size_t end = piece.size() - 1;
    while (end > first && at_pole(to, piece[end - 1])) {
        --end;
    }
    // How far off the path then passes says how well it is drawn: a line may run beside its poles and hook
    // to them. A curve that begins at its pole comes straight from it.
    double beside = std::max({kStraightMetres,
                              metres_between(from, piece.front(), ground),
                              metres_between(to, piece.back(), ground)});
    if (first < end) {
        beside = std::max({beside,
                           metres_beside(from, piece[first - 1], piece[first], ground),
                           metres_beside(to, piece[end], piece[end - 1], ground)});
    }
    StraightAhead ahead{from, beside + kSameMetres, ground};
    Point reached = to;
    for (std::size_t i = first; i < end; ++i) {
        if (!ahead.goes_on_to(piece[i])) {
            return reached;
        }
        reached = piece[i];
    }
    return ahead.goes_on_to(to) ? to : reached;
}

Point point_between(Point a, Point b, double fraction, const Ground& ground) {
    return {a.x + fraction * ground.x_step(a.x, b.x), a.y + fraction * (b.y - a.y)};
}

void DrawnPath::piece(PathPlace begin,
                      PathPlace end,
                      const Ground& ground,
                      std::vector<Point>& out) const {
    out.clear();
    out.push_back(at(begin, ground));
    const std::size_t last = end.vertex + (end.fraction > 0.0 ? 1U : 0U);
    for (std::size_t i = begin.vertex + 1U; i < last; ++i) {
        if (is_vertex(i)) {
            out.push_back((*this)[i]);
        }
    }
    out.push_back(at(end, ground));
}

namespace {

/// Brings every longitude to within half a turn of the one before it, the first into the range of a map.
void keep_together(std::span<Point> points, bool first_is_between) {
    constexpr double kTurn = 360.0;
    if (first_is_between && std::abs(points.front().x) > 0.5 * kTurn) {
        points.front().x -= std::copysign(kTurn, points.front().x);
    }
    for (std::size_t i = 1; i < points.size(); ++i) {
        const double step = points[i].x - points[i - 1].x;
        if (std::abs(step) > 0.5 * kTurn) {
            points[i].x -= std::copysign(kTurn, step);
        }
    }
}

}  // namespace

std::vector<Point> cut_path(std::span<const std::span<const Point>> parts,
                            const PathCut& cut,
                            const Ground& ground) {
    std::vector<Point> points;
    const std::span<const Point> part = parts[cut.part];
    DrawnPath{part, false}.piece(cut.begin, cut.end, ground, points);
    const auto jumps = [](Point a, Point b) { return std::abs(a.x - b.x) > 180.0; };
    if (!ground.is_planar() && std::adjacent_find(part.begin(), part.end(), jumps) != part.end()) {
        keep_together(points, cut.begin.fraction > 0.0);
    }
    return points;
}

std::vector<double> cut_values(std::span<const double> values, const PathCut& cut) {
    const auto at = [&](PathPlace place) {
        const double here = values[place.vertex];
        return place.fraction > 0.0 ? here + place.fraction * (values[place.vertex + 1U] - here)
                                    : here;
    };
    std::vector<double> out{at(cut.begin)};
    const std::size_t last = cut.end.vertex + (cut.end.fraction > 0.0 ? 1U : 0U);
    for (std::size_t i = cut.begin.vertex + 1U; i < last; ++i) {
        out.push_back(values[i]);
    }
    out.push_back(at(cut.end));
    return out;
}

}  // namespace linewood
