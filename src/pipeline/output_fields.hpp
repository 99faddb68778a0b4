#pragma once

#include <vector>

#include "geo/io/cell.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// The columns the tool adds to each layer, with unit and meaning, in output order.
/// What the network alone tells of a pole and of a span.
std::vector<Field> line_fields();
std::vector<Field> joined_span_fields();
/// Those, and what an assessment adds.
std::vector<Field> pole_fields(UnitSystem units);
std::vector<Field> span_fields();
/// Of poles that the tool made.
Field pole_id_field();
std::vector<Field> defect_fields(UnitSystem units);
std::vector<Field> section_fields(UnitSystem units);
std::vector<Field> finding_fields();
std::vector<Field> run_fields();

}  // namespace linewood
