#include "geo/network/nearest_line.hpp"

#include "geo/network/line_axis.hpp"
#include "geo/network/resolved_span.hpp"

namespace linewood {

NearestLine::NearestLine(const Ground& ground,
                         std::span<const Point> poles,
                         const PoleGrid& grid,
                         double within_m)
    : ground_{ground}, poles_{poles}, grid_{grid}, within_m_{within_m}, near_(poles.size()) {}

/// The line's axis at a place of `path_`; nothing where it has no length there.
std::optional<NearestLine::Passing> NearestLine::passing(std::size_t segment,
                                                         double fraction) const {
    const Point a = path_[segment];
    const Point b = path_[segment + 1];
    // A bend is met at the end of the segment before it first; at the beginning of this one it is not
    // nearer any more.
    if (fraction >= 1.0 && segment + 2 < path_.size()) {
        const Bearing back = ground_.course(b, a).start;
        const Bearing on = ground_.course(b, path_[segment + 2]).start;
        return Passing{axis_of(back, on), 0.5 * deflection_of(back, on).degrees()};
    }
    const Point foot = point_between(a, b, fraction, ground_);
    const Course course = fraction < 0.5 ? ground_.course(foot, b) : ground_.course(a, foot);
    if (!(course.length_m > 0.0)) {
        return std::nullopt;
    }
    return Passing{Axis::along(fraction < 0.5 ? course.start : course.end)};
}

void NearestLine::pass(std::span<const Point> part, std::uint32_t row) {
    path_.clear();
    for (const Point p : part) {
        if (path_.empty() || !(p == path_.back())) {
            path_.push_back(p);
        }
    }
    for (std::size_t i = 0; i + 1 < path_.size(); ++i) {
        beside_.clear();
        grid_.beside(path_[i], path_[i + 1], within_m_, beside_);
        for (const PoleGrid::Beside& pole : beside_) {
            Near& near = near_[pole.pole];
            const bool nearer =
                pole.distance_m < near.distance_m - kSameMetres ||
                (pole.distance_m <= near.distance_m + kSameMetres && row < near.row);
            if (!nearer) {
                continue;
            }
            if (const auto line = passing(i, pole.fraction)) {
                near = {pole.distance_m,
                        line->axis.degrees(),
                        row,
                        static_cast<float>(line->open_degrees)};
            }
        }
    }
}

std::optional<NearestLine::Passing> NearestLine::at(std::size_t pole) const {
    const Near* near = &near_[pole];
    if (near->row == kNone && is_place(poles_[pole], ground_)) {
        // One of several poles at the same place is asked of all of them.
        near = &near_[grid_.nearest(poles_[pole], 0.0).pole];
    }
    if (near->row == kNone) {
        return std::nullopt;
    }
    return Passing{Axis::degrees(near->axis_degrees), static_cast<double>(near->open_degrees)};
}

}  // namespace linewood
