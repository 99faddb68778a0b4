#pragma once

#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "geo/cluster/neighbour_source.hpp"
#include "geo/cluster/worker_parts.hpp"

namespace linewood {

enum class ScanModel {
    bernoulli,  ///< share of decayed poles within against outside
    poisson,    ///< decayed poles against those expected by the shares of their strata
};

struct ScanSettings {
    ScanModel model = ScanModel::bernoulli;
    /// Of the inspected poles, at most in a window. Own choice, no source: areas a crew can be sent
    /// to. Kulldorff's own is 0.5.
    double max_share = 0.10;
    std::size_t max_poles = std::numeric_limits<std::size_t>::max();   ///< in a window
    std::size_t max_places = std::numeric_limits<std::size_t>::max();  ///< in a window
    double max_radius_m = 3000.0;   ///< own choice, no source; along the spans 5000
    std::uint32_t min_decayed = 2;  ///< in a window
    std::uint32_t replicates = 999;
    std::uint64_t seed = 1;
    std::size_t max_clusters = 20;  ///< reported
    /// Centres times places of their widest windows, about at most: above it only every so many-th
    /// place is a centre, whatever its label.
    double max_steps = 1e8;
    std::size_t max_label_bytes = std::size_t{256} << 20U;  ///< of replicates at a time
    unsigned threads = 2;
};

/// The poles that are counted. Only inspected ones: a pole nobody looked at is not a sound one.
struct ScanPoles {
    std::span<const std::uint8_t> decayed;   ///< one a pole, 0 or 1
    std::span<const std::uint32_t> stratum;  ///< one a pole; empty: one stratum
    /// One a pole: its place among those of the neighbour source, where several poles share one;
    /// empty: each pole is a place of its own.
    std::span<const std::uint32_t> place;
};

struct ScanCluster {
    std::uint32_t centre = 0;           ///< place
    double radius_m = 0.0;              ///< to the last place, by the source's distance
    std::vector<std::uint32_t> places;  ///< by distance, then index
    std::uint32_t poles = 0;
    std::uint32_t decayed = 0;
    double expected = 0.0;  ///< by the shares of the strata; with one, poles C/N
    /// Decayed over expected within, against the same outside; absent where no decayed pole is outside.
    std::optional<double> relative_risk;
    double llr = 0.0;
    /// (1 + replicates whose greatest LLR is as great) / (1 + replicates): never below 1/(R+1). For
    /// all but the first cluster it is on the safe side, being held against the greatest as well.
    double p = 1.0;
};

struct ScanResult {
    /// By LLR, then fewer poles, then lower centre; none shares a place with one before it.
    std::vector<ScanCluster> clusters;
    std::vector<double> replicate_llr;  ///< greatest of each replicate, in their order
    std::size_t centres = 0;
    std::size_t stride = 1;  ///< 1: every place was a centre
    std::uint64_t windows = 0;
};

/// Kulldorff's spatial scan: where in the network more poles are decayed than anywhere by chance, in
/// right measure for the many places and sizes looked at. Windows are all places within a distance
/// of a centre: each distance there is, places at the same distance together. Labels are permuted
/// over all poles, or within strata; windows are those of the true labels. With strata, `poisson`
/// finds more than `bernoulli`; both are valid.
/// The result is the same for any number of threads and any memory limit; for any order of the
/// input where the poles are given in the order of their ids (`id_order`).
/// Cost: 100,000 poles, windows of up to 1,000, 999 replicates: about 20 s of processor time, most
/// of it over as many threads as there are; along the spans a tenth more. In proportion to centres
/// times places times replicates.
/// Memory: labels, a byte a place and replicate (at most `max_label_bytes` at a time), and about
/// 100 bytes a place.
/// @param source of the places; a straight line or along the spans.
/// @return nothing where `keep_going` said no.
std::optional<ScanResult> scan_for_clusters(const NeighbourSource& source,
                                            const ScanPoles& poles,
                                            const ScanSettings& settings = {},
                                            const KeepGoing& keep_going = {});

}  // namespace linewood
