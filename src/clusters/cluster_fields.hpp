#pragma once

#include <vector>

#include "geo/io/cell.hpp"

namespace linewood {

/// The columns of the layers that a search for clusters writes, with unit and meaning, in output order.
std::vector<Field> cluster_fields();
std::vector<Field> cluster_member_fields();
std::vector<Field> pole_score_fields();
std::vector<Field> rate_fields();
std::vector<Field> group_fields();

}  // namespace linewood
