#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <vector>

#include "geo/crs/ground.hpp"
#include "geo/network/drawn_path.hpp"
#include "geo/network/network_settings.hpp"
#include "geo/network/pole_grid.hpp"
#include "geo/network/resolved_span.hpp"

namespace linewood {

/// A pole named for an end of a path: it has the end, whatever is near. kNone: geometry decides.
struct EndClaim {
    std::uint32_t pole = kNone;
    bool far = false;    ///< the drawn end is further from it than the snap tolerance
    double off_m = 0.0;  ///< the distance; 0 where the pole has no place
};

/// A place where a path is cut, or one of its two ends.
struct RouteStop {
    PathPlace place;             ///< counted in the order the line runs
    std::uint32_t pole = kNone;  ///< kNone: an end without a pole
    double distance_m = 0.0;     ///< of the pole from the path there
    /// Of the next pole that could have been taken as well; infinite where there is none.
    double second_m = std::numeric_limits<double>::infinity();
};

/// Cuts a path at its poles.
///
/// - Vertices in a row that belong to the same pole are one stop, at the nearest of them (at a path's
///   end: the end).
/// - A pole beside the path between its vertices is a stop once each time the path comes by: not
///   where it already has a vertex there, nor twice while the path stays within the tolerance.
/// - Poles at the same place along the path (within 1 cm): one that has a vertex stands, else the
///   nearest to the path, else that of lowest index.
/// - Beside an end that is claimed from afar no pole is cut: the name says whose end it is.
class RouteCutter {
public:
    /// The grid must outlive the cutter.
    RouteCutter(const Ground& ground, const PoleGrid& grid, const NetworkSettings& settings);

    /// With this off, poles come from claims only.
    void use_geometry(bool on) { use_geometry_ = on; }

    /// The stops in the order the line runs: the first at its beginning, the last at its end, at
    /// least two. Good until the next call.
    /// @pre the path has a point, all are places (is_place), fewer than 2^32.
    const std::vector<RouteStop>& cut(const DrawnPath& path, EndClaim first, EndClaim last);

private:
    void own_vertices(const DrawnPath& path, EndClaim first, EndClaim last);
    void add_vertex_stops(const DrawnPath& path);
    void add_interior_stops(const DrawnPath& path, EndClaim first, EndClaim last);
    std::optional<RouteStop> stop_between(const DrawnPath& path,
                                          std::size_t segment,
                                          const PoleGrid::Beside& pole) const;
    bool stops_already(const DrawnPath& path, std::size_t segment, const PoleGrid::Beside& pole);
    void merge_stops(const DrawnPath& path);

    Ground ground_;
    const PoleGrid& grid_;
    double snap_m_;
    double cut_m_;
    bool use_geometry_ = true;
    std::vector<PoleGrid::Nearest> owners_;
    std::vector<PoleGrid::Beside> beside_;
    std::vector<RouteStop> stops_;
    std::vector<RouteStop> between_;
};

}  // namespace linewood
