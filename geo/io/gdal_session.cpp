#include "geo/io/gdal_session.h"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <mutex>
#include <system_error>

#include <gdal.h>
#include <sqlite3.h>

#include "geo/io/source.hpp"

namespace linewood {
namespace {

constexpr std::size_t kMaxKept = 4096;  // bytes of messages kept: a damaged file can give millions

struct Stray {
    std::mutex mutex;
    std::int64_t failures = 0;
    std::string last;
};

Stray& stray() {
    static Stray instance;
    return instance;
}

void CPL_STDCALL receive_stray(CPLErr level, CPLErrorNum /*number*/, const char* text) {
    if (level < CE_Failure) {
        return;
    }
    Stray& s = stray();
    const std::lock_guard lock{s.mutex};
    ++s.failures;
    s.last = text;
}

bool contains(std::string_view text, std::string_view word) {
    return text.find(word) != std::string_view::npos;
}

/// What to do about it, for the causes that can be told from GDAL's words.
std::string_view advice_for(std::string_view said, int system_error) {
    if (contains(said, "database is locked") || contains(said, "database table is locked")) {
        return "; it is open in another program: close it there and try again";
    }
    if (contains(said, "disk is full") || contains(said, "No space left") ||
        system_error == ENOSPC || system_error == EFBIG || system_error == EDQUOT) {
        return "; the disk is full (or a file size limit is reached): free some space or choose "
               "another place";
    }
    if (contains(said, "malformed") || contains(said, "not a database") ||
        contains(said, "corrupt")) {
        return "; the file is damaged: restore it from a copy";
    }
    return "";
}

/// Where the cause cannot be told from the words: what is most likely, by what was being done.
std::string_view likely_advice(std::string_view doing, const std::string& path) {
    const auto begins = [&](std::string_view word) { return doing.rfind(word, 0) == 0; };
    std::error_code error;
    if (begins("writing") || begins("creating the output") || begins("creating the layer") ||
        begins("opening the finished") || begins("opening the file again") ||
        begins("counting the rows")) {
        return "; the disk may be full: free some space or choose another place";
    }
    if ((begins("reading") || begins("opening")) && std::filesystem::is_regular_file(path, error)) {
        return "; the file may be damaged, or its end be missing: write it again from its source, "
               "or restore it from a copy";
    }
    return "";
}

std::string failure_text(std::string_view doing,
                         std::string_view said,
                         int system_error,
                         const std::string& path) {
    const std::string_view known = advice_for(said, system_error);
    const std::string_view advice = known.empty() ? likely_advice(doing, path) : known;
    while (!said.empty() && (said.back() == '.' || said.back() == '\n' || said.back() == ' ')) {
        said.remove_suffix(1);
    }
    std::string message{doing};
    message += " failed";
    if (!said.empty()) {
        message += ": ";
        message += said;
    }
    message += advice;
    return message;
}

}  // namespace

void start_gdal() {
    static const bool kDone = [] {
        CPLSetErrorHandler(receive_stray);
        // Counting its memory costs SQLite a lock for every piece of it. No harm where it is too late.
        sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);  // NOLINT(cppcoreguidelines-pro-type-vararg)
        CPLSetConfigOption("GDAL_PAM_ENABLED", "NO");
        CPLSetConfigOption("OGR_GPKG_FOREIGN_KEY_CHECK", "NO");
        // The first row of a spreadsheet is its header, whatever its cells look like.
        CPLSetConfigOption("OGR_XLSX_HEADERS", "FORCE");
        CPLSetConfigOption("OGR_ODS_HEADERS", "FORCE");
        GDALAllRegister();
        return true;
    }();
    static_cast<void>(kDone);
}

std::int64_t stray_failures() {
    Stray& s = stray();
    const std::lock_guard lock{s.mutex};
    return s.failures;
}

std::string last_stray_failure() {
    Stray& s = stray();
    const std::lock_guard lock{s.mutex};
    return s.last;
}

ErrorCollector::ErrorCollector() {
    CPLPushErrorHandlerEx(receive, this);
    CPLErrorReset();
    errno = 0;
}

ErrorCollector::~ErrorCollector() { CPLPopErrorHandler(); }

void ErrorCollector::clear() {
    failures_ = 0;
    first_.clear();
    all_.clear();
    warnings_.clear();
    CPLErrorReset();
}

bool ErrorCollector::failure_mentions(std::string_view word) const { return contains(all_, word); }

void ErrorCollector::receive(CPLErr level, CPLErrorNum /*number*/, const char* text) {
    auto* self = static_cast<ErrorCollector*>(CPLGetErrorHandlerUserData());
    if (level == CE_Warning) {
        if (self->warnings_.size() < 16) {
            self->warnings_.emplace_back(text);
        }
        return;
    }
    if (level < CE_Failure) {
        return;
    }
    ++self->failures_;
    if (self->first_.empty()) {
        self->first_ = text;
    }
    if (self->all_.size() < kMaxKept) {
        self->all_ += text;
        self->all_ += '\n';
    }
}

void throw_gdal_error(const std::string& path,
                      const std::string& layer,
                      std::string_view doing,
                      const ErrorCollector& errors) {
    const int system_error = errno;
    throw DataError{path, layer, failure_text(doing, errors.message(), system_error, path)};
}

void throw_write_error(const std::string& path, std::string_view doing, std::string_view said) {
    throw DataError{path, "", failure_text(doing, said, 0, path)};
}

std::string gdal_version() { return GDALVersionInfo("RELEASE_NAME"); }

}  // namespace linewood
