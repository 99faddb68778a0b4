#pragma once

// Private to geo/io: the table `layer_styles` of a GeoPackage. No part of the standard, but what desktop clients keep
// and look for; registered as a table of attributes, so that the file is as the standard wants it.

#include <string>
#include <string_view>
#include <vector>

#include "geo/io/sqlite_file.h"
#include "geo/io/stored_style.hpp"

namespace linewood {

inline constexpr std::string_view kStyleTable = "layer_styles";

/// The styles of one layer.
struct LayerStyles {
    std::string layer;
    std::string geometry;  ///< its geometry column: clients look for both
    std::vector<StoredStyle> styles;
};

/// Writes them in place of those that an earlier run left for these layers; rows of another owner stay, and where
/// one of them is its layer's default, ours is not.
/// @param now the time of change as SQL
/// @return what the user should know: where a table of that name has not the columns it should, nothing is written;
///         else empty.
std::string write_styles(SqliteFile& file,
                         const std::vector<LayerStyles>& layers,
                         const std::string& now);

}  // namespace linewood
