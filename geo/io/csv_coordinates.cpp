#include "geo/io/csv_coordinates.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <utility>
#include <vector>

#include "geo/io/csv_lines.h"
#include "geo/io/data_error.hpp"

namespace linewood {
namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kPairs{{
    {"x", "y"},
    {"lon", "lat"},
    {"long", "lat"},
    {"longitude", "latitude"},
    {"easting", "northing"},
    {"lon_dd", "lat_dd"},
    {"coord_x", "coord_y"},
    {"geom_x", "geom_y"},
}};

bool same_word(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char p, char q) {
        return std::tolower(static_cast<unsigned char>(p)) ==
               std::tolower(static_cast<unsigned char>(q));
    });
}

const std::string* find_word(const std::vector<std::string>& cells, std::string_view word) {
    const auto at = std::find_if(
        cells.begin(), cells.end(), [&](const std::string& cell) { return same_word(cell, word); });
    return at == cells.end() ? nullptr : &*at;
}

/// OGR ends the header at the first line break, and the columns behind it are gone.
void check_header(const std::filesystem::path& file, const std::vector<std::string>& cells) {
    for (const std::string& cell : cells) {
        const auto end = cell.find_first_of("\r\n");
        if (end != std::string::npos) {
            throw DataError{file.string(),
                            "",
                            "the column name that begins with \"" + cell.substr(0, end) +
                                "\" has a line break in it, and the columns behind it cannot be "
                                "read; put the header on one line"};
        }
    }
}

}  // namespace

std::optional<CsvCoordinates> csv_coordinates(const std::filesystem::path& file) {
    CsvRows rows{file};
    CsvRow header;
    if (!rows.next(header)) {
        return std::nullopt;
    }
    if (!header.split) {
        rows.split(header);
    }
    if (header.unclosed.empty()) {
        check_header(file, header.cells);
    }
    for (const auto& [x, y] : kPairs) {
        const std::string* const first = find_word(header.cells, x);
        const std::string* const second = find_word(header.cells, y);
        if (first != nullptr && second != nullptr) {
            return CsvCoordinates{*first, *second};
        }
    }
    return std::nullopt;
}

}  // namespace linewood
