#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/cluster/false_discovery.hpp"
#include "geo/io/output_dataset.hpp"

namespace linewood {

/// A column whose values part the poles: labels are permuted within a stratum.
struct Stratifier {
    std::string field;
    /// Numbers are put into bands of this width, from 0; 0 = each value (text) for itself.
    double band = 0.0;
};

enum class CellShape : std::uint8_t { hexagon, square, none };

/// What a search for clusters is told, checked. Defaults are the design's own choice where no source stands.
struct ClusterJob {
    std::string input;
    std::filesystem::path out;
    OutputFormat format = OutputFormat::geopackage;
    bool overwrite = false;
    std::filesystem::path page;  ///< an HTML page beside; empty = none

    /// Decayed are poles of these verdicts ...
    std::vector<Verdict> decayed{Verdict::replace, Verdict::stub};
    /// ... or, where given, those with less remaining strength than this, percent.
    std::optional<double> strength_below_pct;
    std::vector<Stratifier> strata;

    bool straight = true;  ///< look for clusters in circles
    bool network = true;   ///< look for them along the spans
    double window_share = 0.10;
    std::optional<std::size_t> window_poles;
    double radius_m = 3000.0;
    double network_radius_m = 5000.0;
    std::uint32_t replicates = 999;
    std::uint64_t seed = 1;
    double significance = 0.05;

    std::size_t neighbours = 12;   ///< the pole itself among them
    std::optional<double> band_m;  ///< instead: all poles within
    bool neighbours_along_spans = false;
    FalseDiscovery discovery = FalseDiscovery::benjamini_hochberg;
    double discovery_rate = 0.05;

    CellShape cells = CellShape::hexagon;
    std::optional<double> cell_side_m;  ///< nothing: chosen from a fixed ladder
    std::string areas;                  ///< `DATASET[:LAYER]` of polygons; empty = none
    std::string areas_name;             ///< column with their names; empty = found
    std::uint32_t min_inspected = 20;   ///< a rate on fewer is too thin to say

    std::optional<double> plane_metres_per_unit;
    std::string metric_crs;
    unsigned threads = 2;
};

}  // namespace linewood
