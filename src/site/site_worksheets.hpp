#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "src/report/run_monitor.hpp"
#include "src/site/site_folder.hpp"
#include "src/site/site_job.hpp"
#include "src/site/site_pages.hpp"
#include "src/site/site_poles.hpp"

namespace linewood {

/// The worksheets of a site, and what is to be said of those that are not there.
struct SiteSheets {
    PagesByRow worksheets;
    PagesByRow sections;        ///< the drawing of the worst section
    std::size_t unwritten = 0;  ///< beyond the limit
    std::vector<std::string> notes;
};

/// Writes worksheets of the poles that the job asks for, the worst first, up to its limit, to `worksheets/`, with the
/// criteria and settings that the dataset was assessed by. Of each id the first pole has one.
/// @param run what the dataset says it was made by
/// @throws DataError, JobError, Interrupted
SiteSheets write_site_worksheets(const SiteJob& job,
                                 const Provenance& run,
                                 const SitePoles& poles,
                                 const SiteFolder& site,
                                 RunMonitor& monitor);

}  // namespace linewood
