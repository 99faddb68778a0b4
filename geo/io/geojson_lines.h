#pragma once

// Private to geo/io: lines of a GeoJSON sequence that are no features.

#include <cstdint>
#include <string>
#include <vector>

namespace linewood {

struct LostLines {
    std::int64_t all = 0;            ///< lines that did not become a feature
    std::int64_t unread = 0;         ///< those among them that nothing is wrong with
    std::vector<std::string> lines;  ///< the others: `line 7 is no feature: {"type":"Fe`
};

/// Compares a file of GeoJSON texts, one a line or each behind a record separator, with the number of features that
/// were read from it. Parses the lines only where these differ. Nothing for a file that is not on disk.
LostLines lost_geojson_lines(const std::string& file, std::int64_t read, std::size_t most_shown);

}  // namespace linewood
