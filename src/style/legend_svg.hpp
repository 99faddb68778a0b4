#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "src/style/style_sheet.hpp"

namespace linewood {

/// A legend of these styles in two columns, one block a style with its title and a row a class, drawn as on the
/// map (ticks point to the north-east). An SVG of its own: no scripts, nothing from elsewhere.
std::string legend_svg(const std::vector<const LayerStyle*>& styles, std::string_view title);

/// Of all styles of a sheet.
std::string legend_svg(const StyleSheet& sheet);

}  // namespace linewood
