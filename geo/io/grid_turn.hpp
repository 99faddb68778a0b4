#pragma once

#include <string>

#include "geo/io/output_dataset.hpp"

namespace linewood {

/// Is a layer in the system `wkt` written in one whose grid north is another? @param asked OutputOptions::crs.
bool turns_grid(OutputFormat format, const std::string& asked, const std::string& wkt);

}  // namespace linewood
