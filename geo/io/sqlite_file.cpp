#include "geo/io/sqlite_file.h"

#include "geo/io/gdal_session.h"

namespace linewood {
namespace {

std::string doubled(const std::string& text, char quote) {
    std::string out(1, quote);
    for (const char c : text) {
        out.append(c == quote ? 2U : 1U, c);
    }
    return out + quote;
}

}  // namespace

SqliteFile::SqliteFile(const std::filesystem::path& file, std::string shown)
    : shown_{std::move(shown)} {
    sqlite3* db = nullptr;
    const int result =
        sqlite3_open_v2(file.c_str(), &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX, nullptr);
    handle_.reset(db);
    if (result != SQLITE_OK) {
        fail("opening the file to be written");
    }
    sqlite3_extended_result_codes(db, 1);
    run("PRAGMA locking_mode = EXCLUSIVE");
    run("PRAGMA synchronous = OFF");
    run("PRAGMA journal_mode = OFF");
    run("PRAGMA cache_size = -4096");
    run("BEGIN");
}

void SqliteFile::run(const std::string& sql) {
    if (sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) {
        fail("writing");
    }
}

std::string SqliteFile::ask(const std::string& sql) {
    std::string answer;
    const auto take = [](void* to, int count, char** values, char** /*names*/) {
        auto& text = *static_cast<std::string*>(to);
        if (count > 0 && values[0] != nullptr && text.empty()) {
            text = values[0];
        }
        return 0;
    };
    if (sqlite3_exec(handle_.get(), sql.c_str(), take, &answer, nullptr) != SQLITE_OK) {
        fail("reading");
    }
    return answer;
}

void SqliteFile::commit() { run("COMMIT"); }

void SqliteFile::fail(std::string_view doing) const {
    throw_write_error(shown_, doing, sqlite3_errmsg(handle_.get()));
}

SqliteInsert::SqliteInsert(SqliteFile& file, const std::string& sql) : file_{file} {
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v3(file.handle(),
                           sql.c_str(),
                           static_cast<int>(sql.size()) + 1,
                           SQLITE_PREPARE_PERSISTENT,
                           &statement,
                           nullptr) != SQLITE_OK) {
        file.fail("writing");
    }
    statement_.reset(statement);
}

bool SqliteInsert::step() {
    const int result = sqlite3_step(statement_.get());
    if (result == SQLITE_DONE) {
        sqlite3_reset(statement_.get());
        return true;
    }
    if ((result & 0xFF) == SQLITE_CONSTRAINT) {
        sqlite3_reset(statement_.get());
        return false;
    }
    file_.fail("writing a row");
}

namespace {

constexpr std::size_t kPairs = 256;  // of a statement; SQLite takes 32766 parameters

std::string pairs_sql(const std::string& into, std::size_t pairs) {
    std::string sql = "INSERT INTO " + into + " VALUES ";
    for (std::size_t i = 0; i < pairs; ++i) {
        sql += i == 0 ? "(?,?)" : ",(?,?)";
    }
    return sql;
}

}  // namespace

SqlitePairs::SqlitePairs(SqliteFile& file, const std::string& into)
    : file_{file}, into_{into}, many_{file, pairs_sql(into, kPairs)} {
    numbers_.reserve(2 * kPairs);
}

void SqlitePairs::add(std::int64_t a, std::int64_t b) {
    numbers_.push_back(a);
    numbers_.push_back(b);
    if (numbers_.size() == 2 * kPairs) {
        insert(many_);
    }
}

void SqlitePairs::finish() {
    if (!numbers_.empty()) {
        SqliteInsert rest{file_, pairs_sql(into_, numbers_.size() / 2)};
        insert(rest);
    }
}

void SqlitePairs::insert(SqliteInsert& rows) {
    int parameter = 0;
    for (const std::int64_t number : numbers_) {
        rows.bind(++parameter, number);
    }
    if (!rows.step()) {
        file_.fail("writing rows");
    }
    numbers_.clear();
}

std::string quoted_name(const std::string& name) { return doubled(name, '"'); }
std::string quoted_text(const std::string& text) { return doubled(text, '\''); }

}  // namespace linewood
