#pragma once

#include <string>

#include "src/style/style_sheet.hpp"

namespace linewood {

/// Every class as custom properties `--lw-STYLE-CLASS` (its colour) on `:root`, and as a rule `.lw-STYLE-CLASS`
/// with that colour as `--lw-colour`, to be used for backgrounds, borders and drawings alike; in names `_` is `-`.
std::string style_css(const StyleSheet& sheet);

}  // namespace linewood
