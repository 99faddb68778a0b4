#include "geo/network/span_course.hpp"

#include "geo/network/drawn_path.hpp"
#include "geo/network/pole_grid.hpp"

namespace linewood {

SpanCourse SpanSurveyor::measure(std::span<const Point> piece, Point from, Point to) {
    Point ahead = to;
    Point back = from;
    if (piece.size() > 2) {
        reversed_.assign(piece.rbegin(), piece.rend());
        ahead = first_bend(piece, from, to, snap_tolerance_, ground_);
        back = first_bend(reversed_, to, from, snap_tolerance_, ground_);
    }
    SpanCourse found;
    const Course out = ground_.course(from, ahead);
    if (out.length_m > kSameMetres) {
        found.azimuth = out.start.degrees();
        found.reach_m = out.length_m;
    }
    if (ahead == to && back == from) {
        if (out.length_m > kSameMetres) {
            found.back_azimuth = Bearing::degrees(out.end.degrees() + 180.0).degrees();
            found.back_reach_m = out.length_m;
        }
    } else if (const Course home = ground_.course(to, back); home.length_m > kSameMetres) {
        found.back_azimuth = home.start.degrees();
        found.back_reach_m = home.length_m;
    }
    if (piece.size() == 2 && piece[0] == from && piece[1] == to) {
        found.length_m = out.length_m;
        return found;
    }
    found.length_m = 0.0;
    for (std::size_t i = 0; i + 1 < piece.size(); ++i) {
        found.length_m += ground_.course(piece[i], piece[i + 1]).length_m;
    }
    return found;
}

}  // namespace linewood
