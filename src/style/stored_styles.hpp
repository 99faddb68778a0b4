#pragma once

#include <string_view>
#include <vector>

#include "geo/io/output_dataset.hpp"
#include "src/style/style_sheet.hpp"

namespace linewood {

/// The styles to keep beside a layer that is written, the default first: those of `layers.json` for the layer
/// of that role whose fields are all among its columns, where its geometry is drawn so. @param role of the contract: `poles`; a layer changed in
/// place may have another name.
std::vector<StoredStyle> stored_styles(std::string_view role, const LayerPlan& plan);

/// The same of another sheet.
std::vector<StoredStyle> stored_styles(const StyleSheet& sheet,
                                       std::string_view role,
                                       const LayerPlan& plan);

}  // namespace linewood
