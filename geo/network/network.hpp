#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "assess/record/finding.hpp"
#include "assess/record/line_direction.hpp"
#include "geo/crs/ground.hpp"
#include "geo/crs/point.hpp"
#include "geo/network/line_axis.hpp"
#include "geo/network/line_quality.hpp"
#include "geo/network/network_doubts.hpp"
#include "geo/network/network_settings.hpp"
#include "geo/network/resolved_span.hpp"
#include "geo/network/snap_tally.hpp"
#include "geo/network/span_feature.hpp"
#include "geo/network/span_lengths.hpp"

namespace linewood {

/// What a feature says of the line it carries; few different ones, shared by all spans.
struct LineService {
    std::uint32_t circuit = kNone;
    float voltage_kv = std::numeric_limits<float>::quiet_NaN();
    SpanKind kind = SpanKind::line;
};

/// The poles joined by their spans, and the direction of the line at each pole. Made by
/// NetworkBuilder. About 82 bytes a pole where there are as many spans as poles.
class Network {
public:
    std::size_t pole_count() const { return directions_.size(); }

    /// Every span, features in the order they were added; the pieces of a route from its `from` end
    /// to its `to` end. Every feature added has at least one.
    std::span<const ResolvedSpan> spans() const { return spans_; }
    std::span<const PathCut> cuts() const { return cuts_; }
    /// Circuit, voltage and kind of the span at that position.
    const LineService& service(std::size_t span) const { return services_[service_of_[span]]; }

    /// The line at a pole, by contract section 3:
    /// no neighbours: isolated (or, where asked for, tangent by the nearest line); one: dead end,
    /// axis along it; two: tangent or angle; more: junction. Services, guys, spans with an end that
    /// has no pole, and spans that close on themselves make no neighbours.
    /// @pre pole < pole_count()
    const LineDirection& direction(std::size_t pole) const { return directions_[pole]; }

    /// How far that direction can be trusted, and why. A pole that a line passes by unsnapped is
    /// judged by it too. @pre pole < pole_count()
    LineTrust trust(std::size_t pole) const { return trusts_[pole]; }

    /// How the ends of the spans met their poles.
    const SnapTally& tally() const { return tally_; }

    /// Lengths of the spans that join two poles, doubled ones each. Cost: linear, 8 bytes a span
    /// while it works.
    LengthQuantiles lengths() const;

    /// True where the span makes neighbours of its two poles.
    bool joins(std::size_t span) const { return makes_neighbours(span); }

    /// The poles one line span away, sorted by the azimuth in which the line leaves this pole. The
    /// spans to the same neighbour are one entry. Cost: about 100 ns.
    std::vector<Neighbour> neighbours(std::size_t pole) const;

    /// "Ahead along the line" at a pole, for azimuths on the clock: the direction in which the one
    /// span that begins here leaves; at a pole where the line only arrives, straight on from it.
    /// Nothing where the pole has no axis from spans, or two spans both begin or both end here.
    std::optional<Bearing> ahead(std::size_t pole) const;

    /// The same by the stations recorded along the line: the direction in which they rise, from the one
    /// neighbour that gives the axis to the other; one not known is passed over. Nothing where
    /// they do not tell, or rise or fall on both sides.
    /// @param stations one a pole, NaN where it has none; empty: nothing is known.
    std::optional<Bearing> ahead_by_station(std::size_t pole,
                                            std::span<const double> stations) const;

    /// Gives back the memory of neighbours(), ahead(), ahead_by_station(), service(), joins() and lengths(),
    /// which must not be asked any more; spans, directions and findings stay.
    void drop_neighbours();

    /// Calls `take` for every finding, in the order of the rows (findings about the whole network
    /// first); made one at a time, since bad data can have millions. `row` is that of the spans
    /// layer, `feature` is left empty; `place` is in the coordinates of the Ground.
    /// @param name puts pole ids into them.
    void each_finding(const std::function<void(Finding&&)>& take, const PoleName& name = {}) const;
    Findings findings() const;

private:
    friend class NetworkBuilder;
    /// Where the poles are, for showing a doubt on the map.
    struct PoleMap {
        const Ground& ground;
        std::span<const Point> poles;

        /// Half-way between the two poles of a span, or at the one that has a place; else x NaN.
        Point middle(const ResolvedSpan& span) const;
    };
    Network() = default;
    void join();
    void direct(const NetworkSettings& settings, const PoleMap& map);
    LineTrust trust_of(std::size_t pole,
                       std::span<const Neighbour> neighbours,
                       const LineChoice& choice,
                       const NetworkSettings& settings) const;
    SpanDoubt doubt_at(std::size_t pole, const Neighbour& neighbour) const;
    void note_long_spans(const PoleMap& map);
    void collect_arcs(std::size_t pole, std::vector<LineArc>& arcs) const;
    LineArc arc_of(std::uint32_t half_span) const;
    bool makes_neighbours(std::size_t span) const;
    void note_doubled(std::size_t pole, const std::vector<LineArc>& arcs, const PoleMap& map);

    std::vector<ResolvedSpan> spans_;
    std::vector<PathCut> cuts_;
    std::vector<double> back_azimuths_;  ///< in which each span leaves `to`; NaN = nowhere
    std::vector<std::uint32_t> service_of_;
    std::vector<LineService> services_;
    std::vector<std::uint32_t> first_arc_;  ///< of each pole, into `arcs_`; one more at the end
    std::vector<std::uint32_t> arcs_;       ///< span * 2, + 1 where this pole is its `to`
    std::vector<LineDirection> directions_;
    std::vector<LineTrust> trusts_;
    std::vector<bool> loose_end_near_;  ///< of each pole; until directed
    /// Of each span, seen from its `from` and its `to`; until directed.
    std::vector<std::array<SpanDoubt, 2>> span_doubts_;
    SnapTally tally_;
    NetworkDoubts doubts_;
    Angle pair_limit_;
};

}  // namespace linewood
