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
    /// `last_change` as in OutputOptions.
    GpkgFile(std::filesystem::path file, std::string shown, std::string last_change);

    /// Opens a file that is there, to be changed.
    static GpkgFile of_copy(std::filesystem::path file, std::string shown, std::string last_change);

    /// For creating layers. Best before any row is written: the file changes hands.
    /// @pre no statement on rows() is alive.
    GDALDataset& dataset();
    /// For rows and indexes.
    SqliteFile& rows();
    const std::string& shown() const { return shown_; }
    /// The time of change as SQL.
    std::string now() const;
    const std::string& last_change() const { return last_change_; }

    /// Commits and closes.
    void finish();
    /// Lets go of the file without a word.
    void drop() noexcept;

private:
    struct Existing {};
    GpkgFile(Existing /*mark*/, std::filesystem::path file, std::string shown, std::string change)
        : file_{std::move(file)}, shown_{std::move(shown)}, last_change_{std::move(change)} {}

    std::filesystem::path file_;
    std::string shown_;
    std::string last_change_;
    GDALDatasetUniquePtr dataset_;
    std::unique_ptr<SqliteFile> rows_;
};

}  // namespace linewood
