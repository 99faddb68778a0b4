#pragma once

// Private to geo/io: which columns of a CSV file are its coordinates.

#include <filesystem>
#include <optional>
#include <string>

namespace linewood {

struct CsvCoordinates {
    std::string x;  ///< as the header has it
    std::string y;
};

/// The pair of columns of a CSV file named alike for coordinates: x and y, lon and lat, easting and northing
/// and the like, without case. Nothing where not both of a pair are there: a column `x` alone is text.
/// @throws DataError where a name in the header has a line break in it
std::optional<CsvCoordinates> csv_coordinates(const std::filesystem::path& file);

}  // namespace linewood
