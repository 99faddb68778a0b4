#pragma once

#include "assess/record/finding.hpp"
#include "assess/units/length.hpp"
#include "src/pipeline/ground_frame.hpp"
#include "src/pipeline/input_layers.hpp"
#include "src/pipeline/line_rows.hpp"
#include "src/pipeline/pole_reader.hpp"

namespace linewood {

/// Makes the poles of a layer that has lines only: at both ends of every part of every line, merged
/// within the snap tolerance (see EndPoles), not at the vertices between, which are not known to be
/// poles. Services and guys make none, nor what is no line by the job: they end at houses and anchors. The ids are `E1`, `E2`, ... from
/// west to east, then from south to north, by the layer's own coordinates: the order of the features
/// and the way they are drawn do not matter, but another line can move the numbers.
/// Raises one finding that says so. Reads the layer once, geometry and `kind`.
PoleStore make_poles(const InputLayerRef& spans,
                     const LineRows& lines,
                     const GroundFrame& frame,
                     Length snap_tolerance,
                     Findings& findings);

}  // namespace linewood
