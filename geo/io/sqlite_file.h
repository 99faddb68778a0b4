#pragma once

// Private to geo/io: a SQLite file written without OGR in between, for the rows of a GeoPackage: OGR's
// own way costs about as much again as SQLite itself.

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include <sqlite3.h>

namespace linewood {

/// One connection that writes. Everything throws DataError where SQLite refuses, naming `shown`.
class SqliteFile {
public:
    /// Opens an existing file for a bulk load: no journal, no syncing (the file is hidden, thrown away if
    /// anything fails, and synced once by its owner), and begins a transaction.
    SqliteFile(const std::filesystem::path& file, std::string shown);

    void run(const std::string& sql);
    /// The first column of the first row as text; empty where there is none or it is null.
    std::string ask(const std::string& sql);
    void commit();

    sqlite3* handle() const { return handle_.get(); }
    const std::string& shown() const { return shown_; }
    /// Throws what SQLite says about its last call.
    [[noreturn]] void fail(std::string_view doing) const;

private:
    struct Close {
        void operator()(sqlite3* db) const { sqlite3_close_v2(db); }
    };
    std::string shown_;
    std::unique_ptr<sqlite3, Close> handle_;
};

/// A prepared INSERT. Parameters count from 1. What is bound as text or bytes must stay until step().
class SqliteInsert {
public:
    SqliteInsert(SqliteFile& file, const std::string& sql);

    void bind_null(int i) { sqlite3_bind_null(statement_.get(), i); }
    void bind(int i, std::int64_t v) { sqlite3_bind_int64(statement_.get(), i, v); }
    void bind(int i, double v) { sqlite3_bind_double(statement_.get(), i, v); }
    void bind_text(int i, std::string_view v) {
        sqlite3_bind_text(
            statement_.get(), i, start_of(v), static_cast<int>(v.size()), SQLITE_STATIC);
    }
    void bind_bytes(int i, std::string_view v) {
        sqlite3_bind_blob(
            statement_.get(), i, start_of(v), static_cast<int>(v.size()), SQLITE_STATIC);
    }

    /// Inserts the row. @return false where a constraint refused it (a key that is there already); other
    /// failures throw.
    bool step();

private:
    /// SQLite takes a null pointer for null, not for empty.
    static const char* start_of(std::string_view v) { return v.data() == nullptr ? "" : v.data(); }

    struct Finalize {
        void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
    };
    SqliteFile& file_;
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

/// Inserts rows of two whole numbers, many by each statement: a statement of its own costs as much as ten
/// such rows. @pre no constraint refuses any of them.
class SqlitePairs {
public:
    /// @param into the table, quoted.
    SqlitePairs(SqliteFile& file, const std::string& into);
    void add(std::int64_t a, std::int64_t b);
    /// Inserts what is left. Nothing is added after it.
    void finish();

private:
    void insert(SqliteInsert& rows);

    SqliteFile& file_;
    std::string into_;
    SqliteInsert many_;
    std::vector<std::int64_t> numbers_;
};

/// `"name"` and `'text'` with their quotes doubled.
std::string quoted_name(const std::string& name);
std::string quoted_text(const std::string& text);

}  // namespace linewood
