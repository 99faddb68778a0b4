#pragma once

// Private to geo/io: one feature as it is written in GeoJSON, and what GDAL does not make of it.

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "geo/io/json_tokens.h"

namespace linewood {

struct GeoJsonItem {
    bool object = false;  ///< GDAL makes a feature of objects only
    bool whole = true;    ///< false: the text ends within it
    std::string type;     ///< `Feature`, `Point` ...
    /// Why the geometry, or a part of it, is none: GDAL leaves it out, mostly without a word. Empty: nothing is wrong.
    std::string geometry_fault;
    /// What stands in place of the properties; empty: nothing is wrong.
    std::string odd_properties;
    /// Properties whose text holds a byte 0, and that text: GDAL ends it there.
    std::vector<std::pair<std::string, std::string>> cut_texts;

    bool is_feature() const;
    bool is_geometry() const;
};

/// What is between a token and the end of the value that it begins.
class GeoJsonItems {
public:
    explicit GeoJsonItems(JsonTokens& tokens) : tokens_{tokens} {}

    /// @param first the item's first token, which has been read.
    GeoJsonItem read(JsonToken first);
    /// Calls `member` with each key of an object that has been opened, and the first token of its value, which it must read
    /// to its end. @return false where the text ends before the object.
    bool read_members(const std::function<void(const std::string&, JsonToken)>& member);
    void skip(JsonToken first);
    /// @return what is wrong with it; empty where nothing is.
    std::string read_geometry(JsonToken first, int depth = 0);

private:
    struct Coordinates {
        std::size_t depth = 0;  ///< of arrays about a position; 1 in a Point, 0 where there is none
        std::string fault;
    };
    Coordinates read_coordinates(JsonToken first);
    void read_properties(GeoJsonItem& item);
    std::string read_parts(JsonToken first, int depth);

    JsonTokens& tokens_;
};

}  // namespace linewood
