#pragma once

#include <string_view>
#include <vector>

#include "assess/condition/criteria.hpp"
#include "assess/record/defect.hpp"
#include "assess/record/line_direction.hpp"

namespace linewood {

/// Which sector of the pole's face a direction lies in. Sector edges belong to in-line first, then
/// to out-of-line (within 1e-9 degrees). Never `not_recorded`.
FacePosition sector_of(Bearing azimuth, Axis axis, const Criteria& criteria);

/// Whether a direction lies in a sector, both of its edges included: one on the edge between two is of
/// either (within 1e-6 degrees, so that rounding contradicts nobody).
/// @pre position is not `not_recorded`.
bool is_in_sector(Bearing azimuth, Axis axis, FacePosition position, const Criteria& criteria);

/// All directions of a sector in steps of one degree from each of its edges, edges included.
/// @pre position is not `not_recorded`.
std::vector<Bearing> directions_of(FacePosition position, Axis axis, const Criteria& criteria);

/// All directions, in steps of one degree from `start`.
std::vector<Bearing> all_directions(double start_degrees);

/// Whether strength across the line governs: a tangent, or an angle up to the limit, with an axis.
/// Otherwise the weakest direction does.
bool transverse_governs(const LineDirection& line, const Criteria& criteria);

/// The code of a position: `in_line`, `out_of_line`, `oblique`; empty for `not_recorded`.
std::string_view name_of(FacePosition p);

}  // namespace linewood
