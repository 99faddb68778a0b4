#include "assess/condition/shell_check.hpp"

#include <algorithm>

#include "assess/condition/placement.hpp"
#include "assess/condition/sectors.hpp"
#include "assess/section/remaining_section.hpp"

namespace linewood {
namespace {

/// Where a pocket may have the least shell behind it. The shell is linear between readings, so they
/// and the edges of the pocket's sector tell all.
std::vector<Bearing> thin_places(const SurveyedPocket& p,
                                 const SectionShape& shape,
                                 const LineDirection& line,
                                 const Criteria& criteria) {
    if (!is_open(p, line, criteria)) {
        return {*p.azimuth};
    }
    const bool has_sector = p.position != FacePosition::not_recorded && line.axis;
    std::vector<Bearing> places;
    if (has_sector) {
        places = directions_of(p.position, *line.axis, criteria);
    }
    if (p.azimuth) {
        places.push_back(*p.azimuth);
    }
    for (const ShellReading& r : shape.shell) {
        if (!has_sector || sector_of(r.azimuth, *line.axis, criteria) == p.position) {
            places.push_back(r.azimuth);
        }
    }
    return places;
}

Length least_shell(const std::vector<Bearing>& places, const SectionShape& shape) {
    Maybe<Length> least;
    for (const Bearing b : places) {
        const Length shell = *shell_at(shape, b);
        least = std::min(shell, least.value_or(shell));
    }
    return *least;
}

}  // namespace

Maybe<Length> check_shell(const SurveyedSection& s,
                          const SectionShape& shape,
                          const LineDirection& line,
                          const Criteria& criteria,
                          std::vector<DefectShell>& shells) {
    Maybe<Length> least;
    const auto take = [&](std::size_t defect, Length shell) {
        least = std::min(shell, least.value_or(shell));
        shells.push_back({defect, shell});
    };
    for (const SurveyedBore& b : s.bores) {
        if (!b.sound && b.shell) {
            take(b.defect, *b.shell);
        }
    }
    if (!least || shape.shell.empty()) {
        return least;  // nothing to tell the shell between bores from
    }
    for (const SurveyedPocket& p : s.pockets) {
        if (p.width <= criteria.shell_pocket_width * (1.0 + criteria.limit_tolerance)) {
            continue;
        }
        const Length behind = least_shell(thin_places(p, shape, line, criteria), shape) - p.depth;
        if (s.present_known || !is_shell(behind) ||
            !criteria.meets(behind.metres(), criteria.shell_min.metres())) {
            take(p.defect, behind);
        }
    }
    return least;
}

}  // namespace linewood
