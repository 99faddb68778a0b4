#include "geo/network/named_ends.hpp"

#include <limits>

#include "geo/network/drawn_path.hpp"

namespace linewood {

NameJudge::NameJudge(const Ground& ground,
                     std::span<const Point> poles,
                     const PoleGrid* grid,
                     const NetworkSettings& settings)
    : ground_{ground},
      poles_{poles},
      grid_{grid},
      snap_m_{settings.snap_tolerance.metres() + kSameMetres},
      limit_m_{settings.id_distance_limit
                   ? settings.id_distance_limit.value().metres() + kSameMetres
                   : std::numeric_limits<double>::infinity()} {}

/// Metres from the pole named to the drawn end; 0 where there is nothing to compare.
double NameJudge::off(std::uint32_t pole, Point end) const {
    if (pole == kNone || !is_place(poles_[pole], ground_)) {
        return 0.0;
    }
    return metres_between(end, poles_[pole], ground_);
}

EndClaim NameJudge::claim(const SpanFeature& feature,
                          SpanEnd which,
                          Point end,
                          NetworkDoubts& doubts) const {
    const NamedPole& named = which == SpanEnd::from ? feature.from : feature.to;
    const double distance = off(named.index, end);
    if (distance <= snap_m_) {
        return {named.index, false, distance};
    }
    Doubt doubt;
    doubt.code = &kFindingSpanEndFar;
    doubt.row = feature.row;
    doubt.end = which;
    doubt.metres = static_cast<float>(distance);
    doubt.place = end;
    doubt.geometry_used =
        distance > limit_m_ && grid_ != nullptr && grid_->nearest(end, snap_m_).pole != kNone;
    doubts.add(doubt, named.text);
    return doubt.geometry_used ? EndClaim{} : EndClaim{named.index, true, distance};
}

NamedEnds NameJudge::judge(const SpanFeature& feature,
                           Point first,
                           Point last,
                           NetworkDoubts& doubts) const {
    NamedEnds ends;
    const double from_first = off(feature.from.index, first);
    const double to_last = off(feature.to.index, last);
    if (from_first > snap_m_ || to_last > snap_m_) {
        const double from_last = off(feature.from.index, last);
        const double to_first = off(feature.to.index, first);
        ends.backwards = (from_last <= snap_m_ && to_first <= snap_m_) ||
                         from_last + to_first < from_first + to_last - kSameMetres;
    }
    ends.from = claim(feature, SpanEnd::from, ends.backwards ? last : first, doubts);
    ends.to = claim(feature, SpanEnd::to, ends.backwards ? first : last, doubts);
    return ends;
}

}  // namespace linewood
