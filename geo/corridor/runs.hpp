#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "geo/corridor/line_graph.hpp"

namespace linewood {

/// The network cut into runs: from a junction (three or more neighbours), a dead end, or a pole where
/// the circuits change, through poles with two neighbours to the next such pole.
///
/// - A run **starts** at the one of its two ends whose pole id is less (by bytes). A run that comes back
///   to its junction goes out towards the lesser id of the two next poles. A ring without a junction
///   starts at its least id and goes towards the lesser of the two next ones. Nothing depends on the
///   order of the layers or on the way a line is drawn.
/// - **Station** of a pole: metres along the spans from the start of its run. A pole put into a span
///   leaves the stations of the others (of a ring, unless its id is the least).
/// - Circuits change where the sets of known circuits of the two spans differ; not recorded is a set of
///   its own, the empty one.
/// - A pole without spans is a run of one pole and no length.
/// - A pole at an end belongs to every run that meets there; the one it is given is the first of them
///   in the order of runs: by the id of their start, then of their second pole.
///
/// Cost: linear; about 0.2 s and 60 bytes a pole for a million.
class Runs {
public:
    struct Stop {
        std::uint32_t pole = 0;
        std::uint32_t step = kNone;  ///< of the graph, that leads on from here; kNone at the end
        double station_m = 0.0;
    };
    struct Run {
        std::uint32_t first = 0;  ///< into the stops
        std::uint32_t count = 0;
        std::uint32_t circuits = 0;  ///< for LineGraph::circuits()
        bool closed = false;         ///< back to its start, which is listed once
        double length_m = 0.0;       ///< the way back of a closed one included
    };
    /// Where a pole is.
    struct Place {
        std::uint32_t run = 0;
        double station_m = 0.0;
    };

    explicit Runs(const LineGraph& graph);

    std::span<const Run> runs() const { return runs_; }
    /// The poles of a run in the order of their stations.
    std::span<const Stop> stops(std::size_t run) const {
        return std::span{stops_}.subspan(runs_[run].first, runs_[run].count);
    }
    /// All places of a pole, in the order of runs: at least one; several at the ends of runs.
    std::span<const Place> places(std::size_t pole) const {
        return std::span{places_}.subspan(first_place_[pole],
                                          first_place_[pole + 1U] - first_place_[pole]);
    }
    /// The place a pole is given.
    Place place(std::size_t pole) const { return places_[first_place_[pole]]; }

private:
    void walk(const LineGraph& graph, std::uint32_t node, const LineGraph::Arc* arc);
    void index_places(std::size_t poles);

    std::vector<Run> runs_;
    std::vector<Stop> stops_;
    std::vector<Place> places_;
    std::vector<std::uint32_t> first_place_;
};

}  // namespace linewood
