#include "assess/limits/limit_tables.hpp"

#include <numbers>

namespace linewood {
namespace {

template <typename Solve>
std::vector<LimitRow> solve_rows(const std::vector<Length>& sizes,
                                 const std::vector<Angle>& angles,
                                 Length radius,
                                 const Solve& solve) {
    std::vector<LimitRow> rows;
    for (const Length size : sizes) {
        if (size > radius) {
            continue;
        }
        rows.push_back({size, {}});
        for (const Angle angle : angles) {
            rows.back().by_angle.push_back(solve(size, angle));
        }
    }
    return rows;
}

}  // namespace

GirthLimits solve_limits(const LimitCase& c, const LimitRows& rows) {
    const Length radius = c.original / (2.0 * std::numbers::pi);
    GirthLimits all{c.original, least_girth(c), least_shell(c), {}, {}};
    all.pockets = solve_rows(rows.depths, rows.angles, radius, [&](Length depth, Angle angle) {
        return widest_pocket(c, depth, angle);
    });
    all.mouths = solve_rows(rows.shells, rows.angles, radius, [&](Length shell, Angle angle) {
        return widest_mouth(c, shell, angle);
    });
    return all;
}

}  // namespace linewood
