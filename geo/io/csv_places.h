#pragma once

// Private to geo/io: which columns of a CSV file say where its rows are.

#include <filesystem>
#include <optional>
#include <string>

namespace linewood {

struct CsvPlaces {
    std::string x;  ///< as the header has it
    std::string y;
    bool shape = false;  ///< both are the one column of well-known text
    bool by_ogr = true;  ///< false: OGR would take another column, whatever it is told
};

/// As place_columns() finds them in the header.
/// @throws DataError where a name in the header has a line break in it
std::optional<CsvPlaces> csv_places(const std::filesystem::path& file);

}  // namespace linewood
