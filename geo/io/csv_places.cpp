#include "geo/io/csv_places.h"

#include <vector>

#include "geo/io/csv_lines.h"
#include "geo/io/data_error.hpp"
#include "geo/io/place_names.h"

namespace linewood {
namespace {

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

std::optional<CsvPlaces> csv_places(const std::filesystem::path& file) {
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
    if (const auto places = place_columns(header.cells)) {
        return CsvPlaces{header.cells[places->x],
                         header.cells[places->y],
                         places->shape,
                         !ogr_takes_another(header.cells, *places)};
    }
    return std::nullopt;
}

}  // namespace linewood
