#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/tiles/tile_zoom.hpp"
#include "src/report/run_monitor.hpp"

namespace linewood {

/// What the tiles of the poles shall hold.
struct PoleTileOptions {
    /// Columns of the poles layer for the tiles from `full_zoom` on, beside pole_id and verdict; empty = all.
    std::vector<std::string> fields = {};
    int first_zoom = 0;
    int full_zoom = 12;  ///< from here on with all fields
    /// The last zoom is the first from `full_zoom` on at which every pole is shown, and this at most.
    int deepest_zoom = 16;
    TileLimits limits = {};
    unsigned threads = 2;
};

/// What was written. Counts are by verdict, in the order of Verdict, as those of ZoomTally are.
struct TileReport {
    TileCounts poles{};            ///< of the layer
    TileCounts without_place{};    ///< no point, or one that cannot be carried to WGS 84
    TileCounts beyond_mercator{};  ///< north or south of 85.05 degrees: on no map of this kind
    std::vector<ZoomTally> zooms;  ///< from the first to the last zoom
    /// Texts that were too long for a tile and end in `…` there.
    std::uint64_t cut_texts = 0;

    int first_zoom() const { return zooms.front().zoom; }
    int last_zoom() const { return zooms.back().zoom; }
    /// The poles on the map: those that each zoom shows, counts or leaves out.
    std::uint64_t placed() const;
    std::uint64_t tiles() const;
    std::uint64_t bytes() const;
};

/// The name of the tiles' only layer.
inline constexpr std::string_view kPoleTileLayer = "poles";

/// Writes the poles of an assessed dataset as vector tiles, `FOLDER/{z}/{x}/{y}.pbf`, uncompressed. Layer `poles`;
/// the id of a feature is the number of its row in the poles layer, from 0. Properties: `pole_id` and `verdict` below
/// `full_zoom`, from there on the fields as well (numbers, texts, booleans; dates as YYYY-MM-DD; null = not there).
/// Where not even the poles to be replaced all fit into a tile, counted points stand for some of them: without an id, with
/// `verdict` and `count` only. Tiles without poles are not written.
///
/// The dataset is read once; what a tile needs is held in a file in the folder that has no name, and 80 bytes
/// a pole in memory with its id.
/// @param folder there; what it holds is left alone. Half written where something is thrown.
/// @throws DataError where it was not assessed, states no coordinate system, or a file cannot be written; JobError for
///         a field that is not there; Interrupted.
TileReport write_pole_tiles(const std::string& assessed_dataset,
                            const std::filesystem::path& folder,
                            const PoleTileOptions& options,
                            RunMonitor& monitor);

}  // namespace linewood
