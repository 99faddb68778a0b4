#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "geo/io/output_place.hpp"

namespace linewood {

/// The folder of a published site: there complete, or not there. `site.json` in it lists every file, so that a site
/// can be told from a folder of other things when it is to be replaced.
class SiteFolder {
public:
    /// @throws DataError as OutputPlace: also where a folder that is to be replaced holds a file that no site put there.
    SiteFolder(const std::filesystem::path& folder,
               bool overwrite,
               std::vector<std::string>& notes);

    /// Where the site is made.
    const std::filesystem::path& work() const { return place_.work(); }
    const std::filesystem::path& target() const { return place_.target(); }

    /// @param file relative, with `/`; the folders it lies in are made. @throws DataError where it cannot be written
    void write(const std::string& file, std::string_view content) const;
    /// Copies a file of the disk. @throws DataError
    void copy(const std::filesystem::path& from, const std::string& file) const;
    /// A folder in the site. @throws DataError
    std::filesystem::path make_folder(const std::string& folder) const;

    /// The files written so far, sorted; all of them or those in one folder.
    std::vector<std::string> files(const std::string& folder = {}) const;
    std::uintmax_t size_of(const std::string& file) const;

    /// Writes the list of files and puts the folder in its place.
    void finish();

private:
    OutputPlace place_;
};

}  // namespace linewood
