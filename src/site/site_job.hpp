#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "src/job/assess_job.hpp"

namespace linewood {

/// A layer of the user's own that is drawn below the poles.
struct SiteBackground {
    std::string dataset;  ///< `DATASET[:LAYER]`
    std::string title;
    std::string attribution;
};

/// Which poles have a worksheet on the site.
enum class SiteWorksheets : std::uint8_t { work, all, none };

/// What is asked of `linewood publish`, checked. Limits are own choice, no source.
struct SiteJob {
    std::string input;
    std::filesystem::path out;
    bool overwrite = false;
    std::string title;  ///< empty: made of the dataset's name

    std::string
        clusters;  ///< what `linewood clusters` wrote; empty = not shown. So for the next two.
    std::string corridors;
    std::string projects;
    std::filesystem::path sheets;              ///< folder that `linewood projects --sheets` wrote
    std::vector<std::filesystem::path> pages;  ///< pages that this tool wrote: `clusters --page`
    std::vector<SiteBackground> backgrounds;

    SiteWorksheets worksheets = SiteWorksheets::work;
    std::size_t worksheet_limit = 500;
    /// How worksheets read the layers: by a job file, with wood tables. Nothing: the dataset itself, the built-in tables.
    std::optional<AssessJob> read_as;
    std::size_t embed_limit = 50000;  ///< of more poles than that there are tiles
    std::size_t worst = 2000;         ///< poles in the table of a site with tiles
    unsigned threads = 2;
};

}  // namespace linewood
