#pragma once

// Private to geo/io: a GeoPackage that is being written. OGR lays out its tables, SQLite takes the rows.

#include <filesystem>
#include <memory>
#include <string>

#include "geo/io/source_pool.h"
#include "geo/io/sqlite_file.h"

namespace linewood {

class GpkgFile {
public:
    /// Creates the file. `shown` is the path to name in errors. @throws DataError
    GpkgFile(std::filesystem::path file, std::string shown);

    /// For creating layers. @pre no row was written yet.
    GDALDataset& dataset();
    /// For rows and indexes. The first call ends the laying out.
    SqliteFile& rows();
    bool laid_out() const { return dataset_ == nullptr; }
    const std::string& shown() const { return shown_; }

    /// Commits and closes.
    void finish();
    /// Lets go of the file without a word.
    void drop() noexcept;

private:
    std::filesystem::path file_;
    std::string shown_;
    GDALDatasetUniquePtr dataset_;
    std::unique_ptr<SqliteFile> rows_;
};

}  // namespace linewood
