#pragma once

// Private to geo/io: a PostgreSQL database that is changed in one transaction.

#include <string>
#include <vector>

#include "geo/io/gdal_session.h"
#include "geo/io/output_dataset.hpp"

namespace linewood {

class PgFile {
public:
    /// Connects and begins the transaction. @throws DataError without the password in it
    PgFile(const std::string& connection, OutputOptions options);
    ~PgFile() { drop(); }
    PgFile(const PgFile&) = delete;
    PgFile& operator=(const PgFile&) = delete;
    PgFile(PgFile&&) = delete;
    PgFile& operator=(PgFile&&) = delete;

    GDALDataset& dataset() { return *dataset_; }
    /// What messages call it.
    const std::string& shown() const { return shown_; }

    void run(const std::string& sql);
    /// The first column of the first row; empty where there is none or it is null.
    std::string ask(const std::string& sql);
    /// To be run when all layers have been read and written.
    void at_end(std::string sql) { last_.push_back(std::move(sql)); }
    /// @throws DataError where there is something of that name already
    void make_room(const std::string& table);
    /// The table's name with its schema, quoted: that of a layer as OGR lists it, else of the active schema.
    std::string table_of(const std::string& layer);

    /// Runs what was put off, inside the transaction.
    void run_last();
    /// Commits and closes.
    void finish();
    /// Takes everything back without a word.
    void drop() noexcept;

private:
    bool has_table(const std::string& table);
    void clear_own_layers();

    std::string shown_;
    OutputOptions options_;
    GDALDatasetUniquePtr dataset_;
    std::vector<std::string> last_;
};

}  // namespace linewood
