#pragma once

// Private to geo/io: what is read in place of an input file.

#include <filesystem>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "geo/io/csv_scan.h"

namespace linewood {

/// A copy of an input file in a folder of its own among the temporary files, removed with this.
class StandIn {
public:
    /// @throws DataError where no folder can be made there.
    explicit StandIn(const std::filesystem::path& file);
    ~StandIn();
    StandIn(const StandIn&) = delete;
    StandIn& operator=(const StandIn&) = delete;
    StandIn(StandIn&&) = delete;
    StandIn& operator=(StandIn&&) = delete;

    /// Called like the file, or like the one in an archive that it is about.
    std::filesystem::path path() const { return folder_ / name_; }
    std::filesystem::path folder() const { return folder_; }
    /// What is opened in the folder; empty = all of it.
    void set_name(std::filesystem::path name) { name_ = std::move(name); }
    /// What is wrong with the file, by row.
    std::vector<PlacedDamage> damage;

private:
    std::filesystem::path folder_;
    std::filesystem::path name_;
};

/// The stand-in for an input file that must not, or cannot, be read where it is; null for all others.
/// - A CSV that GDAL would read wrongly: mended.
/// - What is in an archive (.kmz, .shz, .shp.zip) or behind a virtual path of GDAL (`/vsizip/...`): taken out, since what is
///   written in a file can only be compared with what GDAL makes of it where it lies on the disk.
/// - A GeoPackage or SQLite database with a write-ahead log beside it: file and log copied, since SQLite writes into the
///   files of such a database even where it only reads. Copied again where they change meanwhile.
/// @throws DataError
std::shared_ptr<const StandIn> stand_in_for(const std::string& file);

}  // namespace linewood
