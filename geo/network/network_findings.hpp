#pragma once

#include <array>
#include <string_view>

#include "assess/record/finding.hpp"

namespace linewood {

/// A kind of doubt the line network can raise.
struct NetworkFindingCode {
    std::string_view code;
    Severity severity;
    std::string_view meaning;
};

inline constexpr NetworkFindingCode kFindingSpanPoleUnknown{
    "span_pole_unknown",
    Severity::warning,
    "from_pole or to_pole names no pole of the layer; the drawn end decides"};
inline constexpr NetworkFindingCode kFindingSpanEndFar{
    "span_end_far",
    Severity::warning,
    "the drawn end is further than the snap tolerance from the pole it names"};
inline constexpr NetworkFindingCode kFindingSpanEndUnsnapped{
    "span_end_unsnapped",
    Severity::warning,
    "no pole within the snap tolerance of a span end; the end is left null"};
inline constexpr NetworkFindingCode kFindingSnapAmbiguous{
    "snap_ambiguous",
    Severity::note,
    "a second pole is within the snap tolerance; the nearest was taken"};
inline constexpr NetworkFindingCode kFindingSpanZeroLength{
    "span_zero_length", Severity::warning, "the path drawn has no length"};
inline constexpr NetworkFindingCode kFindingSpanClosesOnItself{
    "span_closes_on_itself",
    Severity::warning,
    "both ends are at the same pole, which is no neighbour of itself"};
inline constexpr NetworkFindingCode kFindingSpanDoubled{
    "span_doubled",
    Severity::note,
    "a span before it joins the same two poles; they count once for direction"};
inline constexpr NetworkFindingCode kFindingSpanLong{
    "span_long",
    Severity::note,
    "longer than five times what 95 % of the spans do not pass; is a pole missing on it?"};
inline constexpr NetworkFindingCode kFindingSpanWithoutGeometry{
    "span_without_geometry",
    Severity::note,
    "no line is drawn; taken straight between the poles it names, where it names two"};
inline constexpr NetworkFindingCode kFindingSpanCoordinatesInvalid{
    "span_coordinates_invalid",
    Severity::warning,
    "a coordinate is not a number or out of range; the path drawn is not used"};
inline constexpr NetworkFindingCode kFindingPolesTooDense{
    "poles_too_dense",
    Severity::error,
    "most poles lie within the snap tolerance of many others (a wrong unit or coordinate system?); "
    "only named poles are joined"};

inline constexpr std::array kNetworkFindingCodes{
    kFindingSpanPoleUnknown,
    kFindingSpanEndFar,
    kFindingSpanEndUnsnapped,
    kFindingSnapAmbiguous,
    kFindingSpanZeroLength,
    kFindingSpanClosesOnItself,
    kFindingSpanDoubled,
    kFindingSpanLong,
    kFindingSpanWithoutGeometry,
    kFindingSpanCoordinatesInvalid,
    kFindingPolesTooDense,
};

}  // namespace linewood
