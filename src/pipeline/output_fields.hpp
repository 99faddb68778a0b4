#pragma once

#include <vector>

#include "geo/io/cell.hpp"
#include "src/job/unit_system.hpp"

namespace linewood {

/// The columns the tool adds to each layer, with unit and meaning, in output order.
std::vector<Field> pole_fields(UnitSystem units);
std::vector<Field> span_fields();
std::vector<Field> defect_fields(UnitSystem units);
std::vector<Field> section_fields(UnitSystem units);
std::vector<Field> finding_fields();
std::vector<Field> run_fields();

}  // namespace linewood
