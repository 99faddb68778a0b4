#pragma once

#include <span>

#include "geo/crs/ground.hpp"
#include "geo/network/network_doubts.hpp"
#include "geo/network/network_settings.hpp"
#include "geo/network/pole_grid.hpp"
#include "geo/network/route_cutter.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// How the names of a feature bear on its drawn path.
struct NamedEnds {
    bool backwards = false;  ///< the path is drawn from `to` to `from`
    EndClaim from;
    EndClaim to;
};

/// Weighs the poles a feature names against the ends of its path, and raises the doubts: unknown
/// names, ends far from the pole they name. As drawn where both ends fit, else the way round that
/// fits, else the way round whose ends are nearer in sum (equal: as drawn).
class NameJudge {
public:
    /// What is viewed must outlive the judge. Without a grid geometry has no pole to offer.
    NameJudge(const Ground& ground,
              std::span<const Point> poles,
              const PoleGrid* grid,
              const NetworkSettings& settings);

    NamedEnds judge(const SpanFeature& feature,
                    Point first,
                    Point last,
                    NetworkDoubts& doubts) const;

private:
    double off(std::uint32_t pole, Point end) const;
    EndClaim claim(const SpanFeature& feature,
                   SpanEnd which,
                   Point end,
                   NetworkDoubts& doubts) const;

    Ground ground_;
    std::span<const Point> poles_;
    const PoleGrid* grid_;
    double snap_m_;
    double limit_m_;
};

}  // namespace linewood
