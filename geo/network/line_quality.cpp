#include "geo/network/line_quality.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace linewood {
namespace {

/// An end up to this far from its pole is near: what a hand-held receiver or a good drawing gives.
constexpr double kNearMetres = 0.5;
constexpr std::size_t kMostPairsOf = 32;
/// A pole's rounded place is off by up to half a step in x and in y, and a span has two poles.
constexpr double kStepsOff = std::numbers::sqrt2;

LineQuality quality_of(double degrees) {
    if (degrees <= kSureDegrees) {
        return LineQuality::sure;
    }
    return degrees <= kFairDegrees ? LineQuality::fair : LineQuality::weak;
}

std::uint16_t in_hundredths(double degrees) {
    return static_cast<std::uint16_t>(std::lround(std::clamp(degrees, 0.0, 90.0) * 100.0));
}

/// One cause with the metres it may account for.
struct Cause {
    double metres = 0.0;
    QualityReason reason = QualityReason::snapped_near;
};

Cause drawing_cause(const EndEvidence& here, const EndEvidence& there, double snap_m) {
    Cause cause{here.off_m + there.off_m, QualityReason::snapped_far};
    const EndEvidence& worse = here.off_m >= there.off_m ? here : there;
    if (worse.named && worse.off_m > snap_m) {
        cause.reason = QualityReason::end_far_from_named_pole;
    } else if (worse.off_m <= kNearMetres) {
        cause.reason = QualityReason::short_span;
    }
    return cause;
}

/// What a pair has before its deflection is asked.
struct Rank {
    bool same_circuit = false;
    float voltage_kv = 0.0F;

    friend bool operator==(const Rank&, const Rank&) = default;
};

Rank rank_of(const Neighbour& a, const Neighbour& b) {
    Rank rank;
    rank.same_circuit =
        std::any_of(a.circuits.begin(), a.circuits.end(), [&](std::uint32_t circuit) {
            return std::binary_search(b.circuits.begin(), b.circuits.end(), circuit);
        });
    constexpr float kLowest = -std::numeric_limits<float>::infinity();
    rank.voltage_kv = std::min(std::isnan(a.voltage_kv) ? kLowest : a.voltage_kv,
                               std::isnan(b.voltage_kv) ? kLowest : b.voltage_kv);
    return rank;
}

}  // namespace

std::string_view name_of(LineQuality quality) {
    static constexpr std::array<std::string_view, 4> kNames{"sure", "fair", "weak", ""};
    return kNames[static_cast<std::size_t>(quality)];
}

std::string_view name_of(QualityReason reason) {
    static constexpr std::array<std::string_view, kQualityReasonCount> kNames{
        "given",
        "names_agree",
        "snapped_near",
        "snapped_far",
        "short_span",
        "ambiguous_snap",
        "end_far_from_named_pole",
        "coordinates_coarse",
        "pole_without_place",
        "equal_pairs",
        "line_unsnapped_nearby",
        "nearest_line",
        "no_straight_pair",
        "no_spans"};
    return kNames[static_cast<std::size_t>(reason)];
}

SpanDoubt span_doubt(const EndEvidence& here,
                     const EndEvidence& there,
                     double reach_m,
                     const PlacingLimits& limits) {
    const double snap_m = limits.snap_tolerance.metres();
    const auto rival = [](const EndEvidence& end) {
        return std::isfinite(end.rival_m) ? end.rival_m : 0.0;
    };
    const auto unplaced = [&](const EndEvidence& end) { return end.placed ? 0.0 : snap_m; };
    const std::array<Cause, 4> causes{
        drawing_cause(here, there, snap_m),
        Cause{rival(here) + rival(there), QualityReason::ambiguous_snap},
        Cause{kStepsOff * limits.coordinate_step.metres(), QualityReason::coordinates_coarse},
        Cause{unplaced(here) + unplaced(there), QualityReason::pole_without_place}};
    double metres = 0.0;
    Cause most = causes[0];
    for (const Cause& cause : causes) {
        metres += cause.metres;
        most = cause.metres > most.metres ? cause : most;
    }
    SpanDoubt doubt;
    const double degrees =
        reach_m > 0.0 ? std::atan2(metres, reach_m) * 180.0 / std::numbers::pi : 90.0;
    doubt.hundredths = in_hundredths(degrees);
    if (quality_of(doubt.degrees()) != LineQuality::sure) {
        doubt.reason = most.reason;
    } else if (here.named && there.named) {
        doubt.reason = QualityReason::names_agree;
    }
    return doubt;
}

LineTrust axis_trust(SpanDoubt only) { return {quality_of(only.degrees()), only.reason}; }

LineTrust axis_trust(SpanDoubt one, SpanDoubt other) {
    const SpanDoubt& worse = one.hundredths >= other.hundredths ? one : other;
    LineTrust trust{quality_of(0.5 * (one.degrees() + other.degrees())), worse.reason};
    const bool both_named =
        one.reason == QualityReason::names_agree && other.reason == QualityReason::names_agree;
    if (trust.quality == LineQuality::sure) {
        trust.reason = both_named ? QualityReason::names_agree : QualityReason::snapped_near;
    }
    return trust;
}

double rival_pair_degrees(std::span<const Neighbour> neighbours,
                          std::size_t first,
                          std::size_t second,
                          Angle tangent_limit) {
    if (neighbours.size() > kMostPairsOf) {
        return 90.0;
    }
    const Neighbour& a = neighbours[first];
    const Neighbour& b = neighbours[second];
    const Rank rank = rank_of(a, b);
    const Axis axis = axis_of(a.azimuth, b.azimuth);
    const double limit = deflection_of(a.azimuth, b.azimuth).degrees() + tangent_limit.degrees();
    double greatest = 0.0;
    for (std::size_t i = 0; i < neighbours.size(); ++i) {
        for (std::size_t j = i + 1; j < neighbours.size(); ++j) {
            const Neighbour& c = neighbours[i];
            const Neighbour& d = neighbours[j];
            if (deflection_of(c.azimuth, d.azimuth).degrees() <= limit && rank_of(c, d) == rank) {
                greatest = std::max(
                    greatest,
                    angle_off(Bearing::degrees(axis_of(c.azimuth, d.azimuth).degrees()), axis)
                        .degrees());
            }
        }
    }
    return greatest;
}

LineTrust worsened(LineTrust trust, double degrees, QualityReason reason) {
    const LineQuality quality = quality_of(degrees);
    if (trust.quality == LineQuality::none || quality <= trust.quality) {
        return trust;
    }
    return {quality, reason};
}

LineTrust nearest_line_trust(double degrees) {
    return {std::max(LineQuality::fair, quality_of(degrees)), QualityReason::nearest_line};
}

}  // namespace linewood
