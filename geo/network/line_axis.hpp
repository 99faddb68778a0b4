#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "assess/record/line_direction.hpp"
#include "assess/units/angle.hpp"
#include "geo/network/network_settings.hpp"
#include "geo/network/span_feature.hpp"

namespace linewood {

/// One span as seen from one of its poles.
struct LineArc {
    std::uint32_t neighbour = kNone;
    std::uint32_t span = 0;
    Bearing azimuth;  ///< in which the line leaves this pole
    double length_m = 0.0;
    std::uint32_t circuit = kNone;
    float voltage_kv = std::numeric_limits<float>::quiet_NaN();
    bool leaves = false;  ///< the span begins at this pole
};

/// A neighbouring pole, with all spans to it taken together.
struct Neighbour {
    std::uint32_t pole = kNone;
    std::uint32_t span = 0;  ///< the shortest of the spans to it (equal: the first)
    Bearing azimuth;         ///< in which that span leaves this pole
    double length_m = 0.0;
    float voltage_kv = std::numeric_limits<float>::quiet_NaN();  ///< the highest known, else NaN
    bool leaves = false;                                         ///< a span to it begins here
    bool arrives = false;                                        ///< a span from it ends here
    std::vector<std::uint32_t> circuits;  ///< known ones, ascending, each once
};

/// Takes the spans to the same neighbour together and sorts by azimuth (equal: by pole), so that
/// nothing depends on the order of `arcs` (which is changed).
void gather_neighbours(std::vector<LineArc>& arcs, std::vector<Neighbour>& out);

/// The trade's line angle between two directions away from the pole: 0 where they are opposite, 180
/// where they are the same.
Angle deflection_of(Bearing a, Bearing b);

/// The axis of a pair of directions: along u2 - u1, equally square to u1 + u2. Half-way between the
/// two azimuths and a right angle on is both at once, at full precision whatever the angle between;
/// for two neighbours in the same direction it is square to it.
Axis axis_of(Bearing a, Bearing b);

/// The two neighbours that give a junction its axis: same circuit first, then higher voltage (of a
/// pair: the lower of its two sides' highest; unknown is lowest), then least deflection. Deflections
/// within 1e-6 degrees of the least are equal: then the pair with the lowest pole index goes first.
/// Positions in `neighbours`, lower first. Cost O(n log n).
/// @pre at least two neighbours, sorted by azimuth.
std::pair<std::size_t, std::size_t> first_pair(std::span<const Neighbour> neighbours);

/// The line at a pole, and which neighbours gave its axis.
struct LineChoice {
    LineDirection line;
    std::size_t first = 0;   ///< position in the neighbours; of a dead end the only one
    std::size_t second = 0;  ///< likewise
};

/// The line at a pole with these neighbours (contract section 3). Two only, and none at all:
/// | neighbours | role | axis | deflection |
/// | none | isolated | absent | absent |
/// | one | dead_end | along it | absent |
/// | two | tangent, angle | of the pair | of the pair |
/// | more | junction | of the first pair, up to the limit, else absent | likewise |
LineChoice choose_line(std::span<const Neighbour> neighbours, const NetworkSettings& settings);

inline LineDirection line_direction(std::span<const Neighbour> neighbours,
                                    const NetworkSettings& settings) {
    return choose_line(neighbours, settings).line;
}

/// See Network::ahead.
std::optional<Bearing> line_ahead(std::span<const Neighbour> neighbours, Angle junction_pair_limit);

/// See Network::ahead_by_station.
/// @param here the station of this pole. @param stations of all poles; NaN where not known.
std::optional<Bearing> rising_ahead(std::span<const Neighbour> neighbours,
                                    double here,
                                    std::span<const double> stations,
                                    Angle junction_pair_limit);

}  // namespace linewood
