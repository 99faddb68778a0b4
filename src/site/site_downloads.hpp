#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "geo/io/source.hpp"
#include "src/report/run_monitor.hpp"
#include "src/site/site_folder.hpp"

namespace linewood {

/// A file to be had from the site.
struct SiteDownload {
    std::string format;  ///< `GeoPackage`, `FlatGeobuf`, `CSV`
    std::string file;
    std::string title;  ///< what is in it
    std::uintmax_t bytes = 0;
};

/// Writes the dataset into the site's folder `downloads` as a GeoPackage and as folders of FlatGeobuf and CSV: all
/// layers, those of the user too, all rows, all columns. A GeoPackage that is one file already is copied byte for byte, with
/// its styles and what it says of itself.
/// @param name of the GeoPackage and of the folders, without ending
/// @param last_change as OutputOptions has it
/// @throws DataError, Interrupted
std::vector<SiteDownload> write_downloads(const Source& source,
                                          const SiteFolder& site,
                                          const std::string& name,
                                          const std::string& last_change,
                                          RunMonitor& monitor);

}  // namespace linewood
