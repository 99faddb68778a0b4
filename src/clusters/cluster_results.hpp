#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "geo/cluster/decay_hot_spots.hpp"
#include "geo/cluster/decay_rate.hpp"
#include "geo/cluster/getis_ord.hpp"
#include "geo/cluster/join_count.hpp"
#include "geo/shape/polygon.hpp"
#include "geo/stats/rate_interval.hpp"
#include "src/pipeline/layer_doubt.hpp"

namespace linewood {

/// A count of poles, and what share of them is decayed.
struct RateFigures {
    std::uint32_t poles = 0;      ///< inspected or not
    std::uint32_t inspected = 0;  ///< counted
    std::uint32_t decayed = 0;
    std::optional<double> rate;  ///< share; none of none inspected
    std::optional<RateInterval> interval;
};

/// Fills rate and interval.
void work_out(RateFigures& figures);

enum class WindowKind : std::uint8_t { straight, network };
/// `straight`, `network`
const char* name_of(WindowKind kind);

/// A cluster that the scan found.
struct FoundCluster {
    std::string name;  ///< S1, S2 ...: straight; N1 ...: along the spans
    WindowKind kind = WindowKind::straight;
    std::uint32_t centre = 0;  ///< counted pole
    double radius_m = 0.0;
    std::vector<std::uint32_t> members;  ///< counted poles, by distance
    std::vector<double> distances_m;
    RateFigures figures;
    double expected = 0.0;
    std::optional<double> times_elsewhere;
    double llr = 0.0;
    double p = 1.0;
    bool significant = false;
    std::uint32_t near_limit = 0;  ///< members within 5 points of the strength limit
    Polygons outline;              ///< metres
};

/// One scan: what was looked at, and what came of it.
struct ScanOutcome {
    WindowKind kind = WindowKind::straight;
    std::size_t centres = 0;
    std::size_t stride = 1;
    std::uint64_t windows = 0;
    std::vector<FoundCluster> clusters;
};

/// What stands around one counted pole.
struct PoleScore {
    HotSpotScore decay;
    std::optional<double> decay_adjusted;
    GetisOrdScore strength;
    std::optional<double> strength_adjusted;
    std::uint32_t group = 0;  ///< 0: in none
};

/// How many of the counted poles had their surroundings tested, and why the others had not.
struct SpotTests {
    std::uint32_t tested = 0;
    std::uint32_t without_value = 0;  ///< no strength
    std::uint32_t too_few = 0;  ///< poles in the neighbourhood that chance could deal otherwise
    std::uint32_t alike = 0;    ///< enough of them, and yet no chance: all poles, or all alike

    std::uint32_t untested() const { return without_value + too_few + alike; }
};

/// Poles that are drawn together. Not a test.
struct DrawnGroup {
    std::string name;
    std::vector<std::uint32_t> members;  ///< counted decayed poles
    RateFigures figures;                 ///< of all poles within its outline
    Polygons outline;                    ///< metres
};

struct AreaRate {
    std::string kind;  ///< hexagon, square, circuit, area
    std::string name;
    RateFigures figures;
    std::optional<double> smoothed;
    bool thin = false;
    Polygons outline;  ///< metres; empty for circuits without spans
};

/// Everything a search for clusters found.
struct ClusterResults {
    std::vector<ScanOutcome> scans;
    std::vector<PoleScore> scores;  ///< of each counted pole
    SpotTests decay_tests;
    SpotTests strength_tests;
    std::optional<double> middle_neighbourhood;  ///< poles in it; as many have more as have fewer
    std::uint32_t hot = 0;   ///< decayed neighbours beyond chance, after correction
    std::uint32_t weak = 0;  ///< low strength beyond chance
    std::uint32_t strong = 0;
    std::optional<JoinCount> joins;
    std::vector<DrawnGroup> groups;
    double group_reach_m = 0.0;
    std::vector<AreaRate> areas;
    double cell_side_m = 0.0;
    std::uint32_t areas_mended = 0;       ///< user's polygons whose borders crossed themselves
    std::vector<LayerDoubt> area_doubts;  ///< of the layer of the user's polygons
    std::optional<double> strength_limit_pct;
    /// Why there was nothing to test; empty where there was.
    std::string nothing_to_test;
};

}  // namespace linewood
