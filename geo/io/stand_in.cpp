#include "geo/io/stand_in.h"

#include <array>
#include <cstdlib>
#include <fstream>
#include <system_error>

#include <unistd.h>

#include "geo/io/data_error.hpp"
#include "geo/io/layer_schema.hpp"
#include "geo/io/virtual_copy.h"

namespace linewood {
namespace {

namespace fs = std::filesystem;

constexpr const char* kNoRoom =
    "; free some space in the folder for temporary files, or name another in TMPDIR";

bool is_text_table(const fs::path& file) {
    const std::string kind = file.extension().string();
    return same_name(kind, ".csv") || same_name(kind, ".tsv");
}

/// Text as some spreadsheets save it: two bytes a character, with a mark in front.
/// By its mark, or since every other byte of its beginning is 0 (of UTF-32 even more).
bool is_utf16(const fs::path& path) {
    std::array<char, 32> head{};
    std::ifstream in{path, std::ios::binary};
    in.read(head.data(), head.size());
    const std::string_view begin{head.data(), static_cast<std::size_t>(in.gcount())};
    const std::string_view mark = begin.substr(0, 2);
    std::array<std::size_t, 2> zeros{};
    for (std::size_t i = 0; i < begin.size(); ++i) {
        zeros.at(i % 2) += begin[i] == '\0' ? 1U : 0U;
    }
    const std::size_t half = begin.size() / 2;
    return mark == "\xFF\xFE" || mark == "\xFE\xFF" ||
           (half >= 4 && (zeros[0] >= half || zeros[1] >= half));
}

fs::path log_of(const fs::path& file) { return file.string() + "-wal"; }

/// A database that SQLite would write beside while it reads.
bool has_log(const fs::path& file) {
    std::error_code error;
    const bool log = fs::exists(log_of(file), error);
    if (!log && !fs::exists(file.string() + "-shm", error)) {
        return false;
    }
    std::array<char, 20> head{};
    std::ifstream in{file, std::ios::binary};
    in.read(head.data(), head.size());
    constexpr char kWriteAhead = 2;
    return in.gcount() == 20 && std::string_view{head.data(), 15} == "SQLite format 3" &&
           (log || head[18] == kWriteAhead);
}

/// Sizes and times of a database and its log, by which a change is seen.
struct State {
    std::uintmax_t size = 0;
    std::uintmax_t log_size = 0;
    fs::file_time_type time;
    fs::file_time_type log_time;

    explicit State(const fs::path& file) {
        std::error_code gone;
        size = fs::file_size(file, gone);
        time = fs::last_write_time(file, gone);
        log_size = fs::file_size(log_of(file), gone);
        log_time = fs::last_write_time(log_of(file), gone);
    }
    friend bool operator==(const State&, const State&) = default;
};

void copy_whole(const fs::path& from, const fs::path& to) {
    std::error_code error;
    fs::remove(to, error);
    fs::copy_file(from, to, fs::copy_options::overwrite_existing, error);
    if (error && error != std::errc::no_such_file_or_directory) {
        throw DataError{from.string(),
                        "",
                        "it has a write-ahead log (-wal) beside it and has to be read through a "
                        "copy, which cannot be made: " +
                            error.message() + kNoRoom +
                            "; or close it in the program that has it open"};
    }
}

std::shared_ptr<const StandIn> copy_with_log(const fs::path& file) {
    constexpr int kTries = 3;
    auto stand_in = std::make_shared<StandIn>(file);
    for (int i = 0; i < kTries; ++i) {
        const State before{file};
        copy_whole(file, stand_in->path());
        copy_whole(log_of(file), log_of(stand_in->path()));
        if (State{file} == before) {
            return stand_in;
        }
    }
    throw DataError{
        file.string(), "", "another program keeps writing to it; close it there and try again"};
}

/// Files that say more about a CSV: types of its columns, its coordinate system.
void copy_companions(const fs::path& file, const fs::path& to) {
    for (const char* kind : {".csvt", ".prj"}) {
        std::error_code error;
        fs::copy_file(
            fs::path{file}.replace_extension(kind), fs::path{to}.replace_extension(kind), error);
    }
}

}  // namespace

StandIn::StandIn(const fs::path& file) : name_{file.filename()} {
    std::error_code error;
    std::string pattern = (fs::temp_directory_path(error) / "linewood-XXXXXX").string();
    if (error || ::mkdtemp(pattern.data()) == nullptr) {
        throw DataError{
            file.string(), "", std::string{"it has to be read through a copy"} + kNoRoom};
    }
    folder_ = pattern;
}

StandIn::~StandIn() {
    std::error_code error;
    fs::remove_all(folder_, error);
}

namespace {

/// A copy of a CSV that GDAL would read wrongly, mended; null for all others.
std::shared_ptr<const StandIn> mended_table(const fs::path& file, const std::string& shown) {
    if (!is_text_table(file)) {
        return nullptr;
    }
    if (is_utf16(file)) {
        throw DataError{
            shown, "", "this is text in UTF-16; save it as UTF-8 (\"CSV UTF-8\") and try again"};
    }
    if (!is_damaged_csv(file)) {
        return nullptr;
    }
    auto stand_in = std::make_shared<StandIn>(file);
    stand_in->damage = mend_csv(file, stand_in->path());
    copy_companions(file, stand_in->path());
    return stand_in;
}

}  // namespace

std::shared_ptr<const StandIn> stand_in_for(const std::string& file) {
    const std::string inside = virtual_path_of(file);
    if (!inside.empty()) {
        auto copy = copy_from_virtual(file, inside);
        auto mended = copy ? mended_table(copy->path(), file) : nullptr;
        return mended ? mended : copy;
    }
    std::error_code error;
    if (!fs::is_regular_file(file, error)) {
        return nullptr;
    }
    return has_log(file) ? copy_with_log(file) : mended_table(file, file);
}

}  // namespace linewood
