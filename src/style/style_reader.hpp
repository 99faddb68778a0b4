#pragma once

#include <string_view>

#include "src/style/style_sheet.hpp"

namespace linewood {

/// Reads the text of a style file, of the form of `styles/layers.json`. Nothing is let pass: unknown keys,
/// names given twice, colours that are none, a style without a class for absent values, ranges that overlap.
/// @throws JobError with the path, what stood there and what could stand there.
StyleSheet read_style_sheet(std::string_view text);

}  // namespace linewood
