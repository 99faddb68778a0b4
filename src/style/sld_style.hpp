#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "src/style/style_sheet.hpp"

namespace linewood {

enum class SldVersion : std::uint8_t {
    sld_1_0,  ///< OGC Styled Layer Descriptor 1.0.0
    se_1_1,   ///< 1.1.0 with Symbology Encoding 1.1.0
    /// 1.0.0 for MapServer 8.0, which turns marks counterclockwise and has empty texts for absent values; with the
    /// marks of `styles/mapserver.sym`.
    mapserver
};

/// A style as a document of its own. A class is a rule; the rest is an ElseFilter; what is drawn over is a second
/// FeatureTypeStyle (for MapServer, which stops at an ElseFilter, the rest is then written out). Sizes are pixels. Ticks have
/// the mark `shape://vertline` and hatches `shape://slash`, which readers know that go beyond the six marks of the
/// standard.
/// @param layer the name of the layer there; empty = the style's own
std::string sld_style(const LayerStyle& style, SldVersion version, std::string_view layer = {});

}  // namespace linewood
