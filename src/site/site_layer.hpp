#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "geo/io/source.hpp"
#include "src/report/run_monitor.hpp"
#include "src/site/shown_columns.hpp"

namespace linewood {

/// A layer as a script: `window.LINEWOOD_LAYERS["name"] = {FeatureCollection};`, longitude and latitude on WGS 84.
struct SiteLayer {
    std::string name;
    std::string title;
    std::string geometry;  ///< `point`, `line`, `polygon` or `mixed`
    std::string script;
    std::vector<ShownColumn> columns;
    std::size_t features = 0;
    std::size_t without_place = 0;  ///< they are in it, with a geometry of null
    bool visible = false;           ///< when the page is opened
};

/// What is published of a layer.
struct SiteLayerWish {
    std::string layer;  ///< in the dataset
    std::string name;   ///< in the site
    std::string title;
    std::vector<std::string> columns = {};  ///< empty = all
    bool visible = false;
};

/// Reads a layer whole. The id of a feature is the number of its row, from 0.
/// @throws DataError, Interrupted
SiteLayer read_site_layer(const Source& source, const SiteLayerWish& wish, RunMonitor& monitor);

}  // namespace linewood
