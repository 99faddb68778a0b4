#pragma once

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "assess/units/angle.hpp"
#include "assess/units/maybe.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// Which piece of its feature's geometry a span follows, in the order drawn: `begin` is not after
/// `end`, whichever way the span runs.
struct PathCut {
    std::uint32_t part = 0;
    PathPlace begin;
    PathPlace end;

    friend bool operator==(const PathCut&, const PathCut&) = default;
};

/// A span from pole to pole, or what is left of a feature where an end has no pole. 32 bytes.
struct ResolvedSpan {
    /// `path` of a span that has all of its feature's geometry (or a feature without any).
    static constexpr std::uint32_t kWholeFeature = 0x7FFFFFFF;

    std::uint32_t from = kNone;  ///< pole index, kNone where there is no pole
    std::uint32_t to = kNone;
    /// Metres, geodesic, along the path drawn; straight between the two poles where nothing usable
    /// is drawn. NaN where unknown (no geometry and not two poles with a place, bad coordinates).
    double length_m = std::numeric_limits<double>::quiet_NaN();
    /// True, in which the span leaves `from` (its drawn end, where `from` is kNone): to the first
    /// bend or to the other pole's own point. Absent where it leads nowhere (length 0).
    Maybe<Bearing> azimuth;
    std::uint32_t row = 0;                    ///< position of its feature in the layer
    std::uint32_t path : 31 = kWholeFeature;  ///< kWholeFeature, or an index into `Network::cuts()`
    std::uint32_t drawn_backwards : 1 = 0;    ///< the geometry runs from `to` to `from`
};
static_assert(sizeof(ResolvedSpan) == 32);

/// The points of `cut`, in the order drawn. Where the part jumps over the 180th meridian, the piece
/// does not: its longitudes stay on the side of its beginning, beyond 180 where they have to.
/// @param parts the same parts, with the same points, as were added.
/// @pre `cut` is of this feature.
std::vector<Point> cut_path(std::span<const std::span<const Point>> parts,
                            const PathCut& cut,
                            const Ground& ground);

/// What goes with the points of `cut_path`, one for each: heights or measures of the part's vertices,
/// straight between them.
/// @param values one a vertex of the part that is cut.
std::vector<double> cut_values(std::span<const double> values, const PathCut& cut);

/// The place `fraction` of the way from `a` to `b` in layer coordinates, the short way round.
Point point_between(Point a, Point b, double fraction, const Ground& ground);

}  // namespace linewood
