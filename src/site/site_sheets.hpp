#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "src/site/site_folder.hpp"
#include "src/site/site_pages.hpp"
#include "src/site/site_poles.hpp"

namespace linewood {

/// The sheets of projects in the site.
struct CopiedSheets {
    PagesByRow by_pole;                             ///< of the poles that are in a project
    std::map<std::string, std::string> by_project;  ///< paths by project_id
};

/// Takes over a folder that `linewood projects --sheets` wrote, to `projects/`: every file it lists.
/// @throws DataError where it is no such folder, or one of its pages is not as this version writes them.
CopiedSheets copy_project_sheets(const std::filesystem::path& folder,
                                 const SitePoles& poles,
                                 const SiteFolder& site);

/// Takes over a page that the tool wrote, to `reports/`. @return where it is, with its title
/// @throws DataError where it is none, or not as this version writes them.
SiteLink copy_report(const std::filesystem::path& page, const SiteFolder& site);

}  // namespace linewood
