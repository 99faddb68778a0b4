#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string_view>

#include "assess/units/length.hpp"
#include "geo/network/line_axis.hpp"

namespace linewood {

/// How far the direction of the line at a pole can be trusted, by the angle it may be wrong by:
/// | quality | the axis may be wrong by |
/// | sure | up to 2 degrees |
/// | fair | up to 10 degrees |
/// | weak | more |
/// A pocket's sector is 60 degrees wide, so a weak axis can turn in line into oblique. The two
/// limits are this project's own choice, no source. `none`: the pole has no axis.
enum class LineQuality : std::uint8_t { sure, fair, weak, none };

inline constexpr double kSureDegrees = 2.0;
inline constexpr double kFairDegrees = 10.0;

/// Why the quality is what it is: of several causes the one that weighs most.
enum class QualityReason : std::uint8_t {
    given,                    ///< sure: the axis was recorded with the pole
    names_agree,              ///< sure: the spans name both poles and are drawn near them
    snapped_near,             ///< sure: the ends are drawn near enough for spans this long
    snapped_far,              ///< the ends are drawn over 0.5 m from their poles
    short_span,               ///< the ends are near, but the span is too short for its direction
    ambiguous_snap,           ///< another pole was within the snap tolerance of an end
    end_far_from_named_pole,  ///< an end is drawn beyond the snap tolerance from the pole it names
    coordinates_coarse,       ///< the coordinates are rounded too much for spans this long
    pole_without_place,       ///< a pole has no point: the drawn end stands for it
    equal_pairs,              ///< a junction where another pair of spans is as good
    line_unsnapped_nearby,  ///< a span end near the pole, or the far end of one of its spans, has no
                            ///< pole: the line may go on there
    nearest_line,           ///< from a line that passes by: never better than fair
    no_straight_pair,       ///< none: a junction without a straight pair
    no_spans                ///< none: no span joins the pole, no line passes by
};
inline constexpr std::size_t kQualityReasonCount = 14;

std::string_view name_of(LineQuality quality);
std::string_view name_of(QualityReason reason);

/// The quality of a pole's line with its reason: two bytes, since every pole has one.
struct LineTrust {
    LineQuality quality = LineQuality::none;
    QualityReason reason = QualityReason::no_spans;

    friend bool operator==(LineTrust, LineTrust) = default;
};
static_assert(sizeof(LineTrust) == 2);

/// One end of a span as it was joined to its pole.
struct EndEvidence {
    double off_m = 0.0;  ///< of the pole's point from the path drawn
    /// Of the next pole that could have been taken as well; infinite where there is none.
    double rival_m = std::numeric_limits<double>::infinity();
    bool named = false;  ///< the feature names the pole
    bool placed = true;  ///< the pole has a point of its own
};

/// What is known of how well poles and spans were placed, the same for all of a network.
struct PlacingLimits {
    Length snap_tolerance;
    Length coordinate_step;  ///< coordinates are rounded to this; 0 = not noticeably
};

/// By how much the direction of one span may be wrong, seen from one of its poles. Kept to 0.01
/// degrees, at most 90: four bytes.
struct SpanDoubt {
    std::uint16_t hundredths = 0;
    QualityReason reason = QualityReason::snapped_near;

    double degrees() const { return static_cast<double>(hundredths) / 100.0; }
};

/// The angle under which all that may be off is seen along the span: the distances of both poles from
/// the drawn ends, of another pole that could be meant instead, half a coordinate step each way of
/// both poles, and the snap tolerance for a pole without a point.
/// @param reach_m to the first bend or the other pole: what gives the direction. 0 = nothing does.
SpanDoubt span_doubt(const EndEvidence& here,
                     const EndEvidence& there,
                     double reach_m,
                     const PlacingLimits& limits);

/// The quality of an axis along one span, or between two: a pair's axis is half-way between its two
/// spans, so it may be wrong by the mean of theirs.
LineTrust axis_trust(SpanDoubt only);
LineTrust axis_trust(SpanDoubt one, SpanDoubt other);

/// By how much the axis of a junction would turn if another pair had given it: the greatest angle to
/// the axis of a pair of the same rank (same circuit, same voltage) whose deflection is no more than
/// `tangent_limit` above; 0 where there is none. Cost O(n^2), past 32 neighbours always 90.
double rival_pair_degrees(std::span<const Neighbour> neighbours,
                          std::size_t first,
                          std::size_t second,
                          Angle tangent_limit);

/// The trust with one more cause that may turn the axis by so much.
LineTrust worsened(LineTrust trust, double degrees, QualityReason reason);

/// Of an axis taken from a line passing by; `degrees` by how much its own bend there leaves it open.
LineTrust nearest_line_trust(double degrees);

}  // namespace linewood
