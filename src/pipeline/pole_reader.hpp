#pragma once

#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "assess/record/finding.hpp"
#include "assess/record/line_direction.hpp"
#include "assess/record/pole.hpp"
#include "assess/wood/wood_tables.hpp"
#include "geo/crs/point.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/pole_index.hpp"

namespace linewood {

/// What a pole's record says of its line, overriding what the spans say.
struct GivenDirection {
    std::optional<Axis> axis;
    std::optional<LineRole> role;
    double azimuth = 0.0;  ///< degrees, as recorded; with `axis` only
};

/// The poles of a run, by their position in the layer.
struct PoleStore {
    PoleIndex ids;
    std::vector<Pole> poles;
    std::vector<Point> places;  ///< layer coordinates; NaN where there is no usable point
    std::vector<bool> duplicate;
    /// Along the line, rising ahead; NaN where not recorded. Empty where the layer has no such column.
    std::vector<double> stations;
    std::unordered_map<std::uint32_t, GivenDirection> given;

    std::size_t size() const { return poles.size(); }
    std::optional<Place> place(std::uint32_t pole) const;
    std::optional<Point> point(std::uint32_t pole) const;
};

/// Reads the poles layer once, keeping what the network and the assessment need. A point that is no place in the frame
/// is none, with a finding.
/// @param tables null: what is only assessed is not read.
/// @param on_ground gets the places on the common ground.
PoleStore read_poles(const InputLayerRef& layer,
                     const WoodTables* tables,
                     const GroundFrame& frame,
                     std::vector<Point>& on_ground,
                     Findings& findings);

}  // namespace linewood
