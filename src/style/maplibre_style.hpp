#pragma once

#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "src/style/style_sheet.hpp"

namespace linewood {

/// Where a map finds the features of a layer.
struct MapStyleSource {
    std::string layer;                  ///< of the output, as in LayerStyle::layer
    std::string source;                 ///< name of the source in the map's style
    nlohmann::ordered_json definition;  ///< of the source: `{"type": "geojson", "data": …}`
    std::string source_layer = {};      ///< in vector tiles; empty = the source is GeoJSON
    /// Fields that stand under a shorter name where tiles are small: field, short name.
    std::vector<std::pair<std::string, std::string>> short_names = {};
    bool visible = true;  ///< the default style of the layer, from the start
};

/// A style of MapLibre, version 8, without glyphs, sprites or anything fetched from elsewhere. All styles of the
/// layers that have a source are in it; the default style of a visible layer is shown, the others have the
/// visibility `none`. Each of its layers tells `linewood:layer` and `linewood:style` in its metadata. Areas and
/// lines take one layer a class, whose ids are `STYLE`, `STYLE-CLASS` and so on; points one layer `STYLE`.
///
/// Marks are images that the page has to add: the style's metadata has them as `linewood:marks` (style_marks).
nlohmann::ordered_json maplibre_style(const StyleSheet& sheet,
                                      const std::vector<MapStyleSource>& sources);

/// The marks of all point classes and hatches: `id`, `shape`, `size`, `fill`, `outline`, `outline_width` and
/// `rings`, the closed outlines in a box from -1 to 1 (x right, y down) to be drawn at half the size. A hatch has
/// the shape `hatch`, a side of 8 and no rings.
nlohmann::ordered_json style_marks(const StyleSheet& sheet);

/// The classes of a style for a page: `value` (text, true, false, null of the rest) or `from` and `to`, `label`,
/// `colour`, `mark` (its id; of points only).
nlohmann::ordered_json style_classes(const LayerStyle& style);

}  // namespace linewood
