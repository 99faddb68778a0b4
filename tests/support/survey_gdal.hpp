#pragma once

// Private to tests/support: how surveys and GDAL meet.

#include <memory>
#include <string>

#include <ogrsf_frmts.h>

namespace linewood::testing {

void start_gdal();

/// Throws with what GDAL said last.
[[noreturn]] void fail(const std::string& what);

/// A coordinate system that keeps longitude before latitude, whatever the authority says; none for "".
std::unique_ptr<OGRSpatialReference> reference(const std::string& crs);

}  // namespace linewood::testing
