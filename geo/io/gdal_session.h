#pragma once

// Private to geo/io: the process's one set-up of GDAL, and the collection of its messages.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include <cpl_conv.h>
#include <cpl_error.h>
#include <cpl_string.h>
#include <ogrsf_frmts.h>

#include "geo/io/data_error.hpp"

namespace linewood {

/// Registers the drivers once, quietly, and switches off everything that would write beside an input.
void start_gdal();

/// Failures reported by threads that have no ErrorCollector (GDAL's own prefetch threads), since the start.
std::int64_t stray_failures();
/// The latest of them.
std::string last_stray_failure();

/// Collects GDAL's messages of this thread while it lives; nothing is printed. GDAL's callbacks must
/// not throw, so: call GDAL, then ask failed().
class ErrorCollector {
public:
    ErrorCollector();
    ~ErrorCollector();
    ErrorCollector(const ErrorCollector&) = delete;
    ErrorCollector& operator=(const ErrorCollector&) = delete;
    ErrorCollector(ErrorCollector&&) = delete;
    ErrorCollector& operator=(ErrorCollector&&) = delete;

    bool failed() const { return failures_ > 0; }
    /// The first failure (what follows is mostly its consequence); empty without one.
    const std::string& message() const { return first_; }
    bool failure_mentions(std::string_view word) const;
    const std::vector<std::string>& warnings() const { return warnings_; }
    void clear();

private:
    static void CPL_STDCALL receive(CPLErr level, CPLErrorNum number, const char* text);

    std::int64_t failures_ = 0;
    std::string first_;
    std::string all_;
    std::vector<std::string> warnings_;
};

/// Throws what GDAL said about `path`, in words that tell what to do where the cause is a known one.
[[noreturn]] void throw_gdal_error(const std::string& path,
                                   const std::string& layer,
                                   std::string_view doing,
                                   const ErrorCollector& errors);

/// The same for a failure that another library described.
[[noreturn]] void throw_write_error(const std::string& path,
                                    std::string_view doing,
                                    std::string_view said);

}  // namespace linewood
