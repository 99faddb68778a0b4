#pragma once

#include <string>

#include "src/style/style_sheet.hpp"

namespace linewood {

/// A style in the form that desktop clients keep styles in (QML): a rule a class, in millimetres, so that paper
/// and screen show the same. Graver classes are drawn over others. Options stand in the two forms that versions
/// since 3.0 read.
std::string qml_style(const LayerStyle& style);

}  // namespace linewood
