#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "geo/crs/point.hpp"
#include "src/site/site_folder.hpp"

namespace linewood {

/// Ids of poles for the page to search, where there are too many for the page to hold: files
/// `data/search/NNN.json`, sorted by id with ASCII letters taken as small, of which the page reads those that may hold
/// what is asked for. An entry is `[id, row in the layer, longitude, latitude, verdict]`; both degrees are null where there
/// is no place.
class SearchIndex {
public:
    /// A pole without an id is not searched for.
    void add(std::size_t row, std::string_view pole_id, const std::string& verdict, Point wgs84);
    std::size_t size() const { return entries_.size(); }

    /// Writes all files.
    /// @return the first id of each, as it is sorted
    std::vector<std::string> write(const SiteFolder& site);

private:
    struct Entry {
        std::string id;
        Point place;
        std::uint32_t row = 0;
        std::uint32_t verdict = 0;
    };
    std::vector<Entry> entries_;
    std::vector<std::string> verdicts_;
};

}  // namespace linewood
