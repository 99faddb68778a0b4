#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "geo/io/source.hpp"
#include "src/site/site_job.hpp"
#include "src/site/site_layer.hpp"

namespace linewood {

/// A dataset of another command that is shown with the poles.
struct Overlay {
    Source source;
    std::string title;
};

/// A layer that is shown with the poles.
struct OverlayWish {
    Source source;
    SiteLayerWish wish;
    std::string attribution;     ///< of a background; empty: a layer of the tool's own
    bool only_embedded = false;  ///< as many features as poles: not for a site with tiles
};

/// All that is shown beside the poles, opened before anything is written.
struct Overlays {
    std::vector<Overlay> datasets;
    std::vector<OverlayWish> layers;  ///< as they are drawn: the last on top
    std::vector<std::string> notes;   ///< what does not go with the dataset published
    std::vector<std::filesystem::path> read;
};

/// @param source the dataset that is published
/// @throws DataError where one is not there or does not hold what its command writes
Overlays open_overlays(const SiteJob& job, const Source& source);

}  // namespace linewood
