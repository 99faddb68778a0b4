#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "src/assessed/assessed_run.hpp"
#include "src/site/site_downloads.hpp"
#include "src/site/site_layer.hpp"
#include "src/site/site_pages.hpp"
#include "src/site/site_poles.hpp"

namespace linewood {

/// A layer in data/ as site.js lists it.
struct ListedLayer {
    std::string name;
    std::string title;
    std::string file;
    std::string geometry;
    std::string attribution;  ///< of a background; empty: a layer of the tool's own
    bool visible = false;
    std::vector<ShownColumn> columns;
    std::size_t without_place = 0;
    std::map<std::string, std::string> sheets;  ///< pages by the name of a feature
};

/// All that the page is told beside the poles.
struct SiteData {
    std::string title;
    AssessedRun run;
    const SitePoles& poles;
    bool tiled = false;
    nlohmann::ordered_json tiles = nullptr;  ///< zooms and what they show, of a site with tiles
    std::vector<std::string> search;         ///< the first id of each file of the search index
    std::optional<Date> today;               ///< the day of the assessment
    std::vector<ListedLayer> layers;
    std::vector<SiteDownload> downloads;
    std::vector<SiteLink> reports;
    std::vector<std::string> notes;
    std::vector<Provenance> provenance;
};

/// The style of the map: a source of its own for the poles and for each layer of the tool's own.
nlohmann::ordered_json site_style(const std::vector<ListedLayer>& layers);

/// `window.LINEWOOD_SITE = {...};`
std::string site_script(const SiteData& data);

}  // namespace linewood
