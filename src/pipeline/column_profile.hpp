#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "geo/io/layer_schema.hpp"
#include "geo/io/source.hpp"

namespace linewood {

/// What stands in one column of a layer.
struct ColumnProfile {
    static constexpr std::size_t kMostValues = 60;  ///< different texts kept
    static constexpr std::size_t kMostNumbers = 20'000;

    Field field;
    std::int64_t filled = 0;   ///< rows that hold something; blank text is nothing
    std::int64_t numbers = 0;  ///< of these, one number in full
    std::int64_t days = 0;     ///< dates, or texts that are one as YYYY-MM-DD
    std::optional<double> least;
    std::optional<double> most;
    std::string first_day, last_day;
    std::int64_t leading_zeros = 0;  ///< texts like 007, which are no numbers to count with
    /// Texts with their counts; `many` where there are more than are kept.
    std::map<std::string, std::int64_t> values;
    bool many = false;
    std::vector<double> sample;  ///< numbers, spread over the layer

    bool all_numbers() const { return filled > 0 && numbers == filled; }
    bool all_days() const { return filled > 0 && days == filled; }
    /// The middle of the sample. @pre it is not empty
    double median() const;
};

/// One layer as it is, without any meaning given to it.
struct LayerProfile {
    std::string dataset;
    std::string layer;
    /// What the layer says, or where it leaves that open, as a table with WKT does, what all its rows are.
    GeometryKind geometry = GeometryKind::none;
    std::string crs;  ///< its name; empty where none is stated
    std::int64_t rows = 0;
    std::int64_t with_geometry = 0;
    std::int64_t points = 0;  ///< of these
    std::int64_t lines = 0;
    /// Of points and lines; nothing where there are none.
    struct Extent {
        double west, south, east, north;
    };
    std::optional<Extent> extent;
    std::vector<ColumnProfile> columns;
};

/// Reads the layer once. @throws DataError
LayerProfile profile_layer(const Source& source, const std::string& layer);

/// The name in a WKT: `WGS 84 / UTM zone 10N`.
std::string crs_name(const std::string& wkt);

std::string_view name_of(GeometryKind kind);

}  // namespace linewood
