#pragma once

// Private to geo/io: by which names columns of a table are taken for its places.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace linewood {

struct PlaceColumns {
    std::size_t x = 0;  ///< that of the text where `shape`
    std::size_t y = 0;
    bool shape = false;  ///< well-known text, in one column

    bool has(std::size_t column) const { return column == x || column == y; }
};

/// The columns of a table that say where its rows are, by their names, without case: well-known text (`wkt`, `geom`,
/// `the_geom` ...), else a pair of coordinates (x and y, lon and lat, easting and northing ...; one alone is none).
/// `geom_` before a name goes first: so the tool names its own beside columns of the user's.
std::optional<PlaceColumns> place_columns(const std::vector<std::string>& names);

/// Does OGR's CSV driver take another column for the places, whatever it is told? One called `wkt`, or `_wkt...`.
bool ogr_takes_another(const std::vector<std::string>& names, const PlaceColumns& places);

/// Names for columns of places that come behind the others, with as many `geom_` before them that place_columns()
/// finds them and none of the others. @param names `wkt`, or `x` and `y`, or `lon` and `lat`
std::vector<std::string> free_place_names(const std::vector<std::string>& names,
                                          const std::vector<std::string>& others);

}  // namespace linewood
