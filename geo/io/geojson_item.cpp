#include "geo/io/geojson_item.h"

#include <array>
#include <optional>
#include <utility>
#include <vector>

#include <cpl_json.h>

#include "geo/io/gdal_session.h"
#include "geo/io/layer_schema.hpp"
#include "geo/io/nul_text.h"

namespace linewood {
namespace {

/// How deep the positions lie in the coordinates.
constexpr std::array<std::pair<std::string_view, std::size_t>, 6> kDepths{{{"Point", 1},
                                                                           {"MultiPoint", 2},
                                                                           {"LineString", 2},
                                                                           {"MultiLineString", 3},
                                                                           {"Polygon", 3},
                                                                           {"MultiPolygon", 4}}};
constexpr std::string_view kCollection{"GeometryCollection"};

std::optional<std::size_t> depth_of(std::string_view type) {
    for (const auto& [name, depth] : kDepths) {
        if (same_name(name, type)) {
            return depth;
        }
    }
    return std::nullopt;
}

/// One that GDAL reads, NaN and Infinity among them: that these are no place is found later.
bool is_number(std::string_view word) {
    const std::string_view bare = word.substr(!word.empty() && word.front() == '-' ? 1 : 0);
    return (!bare.empty() && bare.front() >= '0' && bare.front() <= '9') ||
           same_name(bare, "nan") || same_name(bare, "infinity");
}

/// Without its escapes. A byte 0, at which parsers end, is lent the place of a character that is none.
std::string decoded(const std::string& written) {
    constexpr std::string_view kEscape{"\\u0000"};
    std::string text = with_nul_as(written, kEscape);
    for (std::size_t at = text.find(kEscape); at != std::string::npos;
         at = text.find(kEscape, at)) {
        text.replace(at, kEscape.size(), "\\uffff");
    }
    const ErrorCollector quiet;
    CPLJSONDocument document;
    document.LoadMemory("{\"text\":\"" + text + "\"}");
    text = document.GetRoot().GetString("text");
    constexpr std::string_view kLent{"\xEF\xBF\xBF"};
    for (std::size_t at = text.find(kLent); at != std::string::npos; at = text.find(kLent, at)) {
        text.replace(at, kLent.size(), 1, '\0');
    }
    return text;
}

void keep_first(std::string& fault, std::string other) {
    if (fault.empty()) {
        fault = std::move(other);
    }
}

}  // namespace

bool GeoJsonItem::is_feature() const { return object && same_name(type, "Feature"); }

bool GeoJsonItem::is_geometry() const {
    return object && (depth_of(type) || same_name(type, kCollection));
}

void GeoJsonItems::skip(JsonToken first) {
    std::size_t open = 0;
    for (JsonToken token = first;; token = tokens_.next()) {
        if (token == JsonToken::open_object || token == JsonToken::open_array) {
            ++open;
        } else if (token == JsonToken::close_object || token == JsonToken::close_array) {
            open -= open > 0 ? 1 : 0;
        }
        if (open == 0 || token == JsonToken::end) {
            return;
        }
    }
}

bool GeoJsonItems::read_members(const std::function<void(const std::string&, JsonToken)>& member) {
    JsonToken token = tokens_.next();
    while (token != JsonToken::close_object && token != JsonToken::end) {
        if (token == JsonToken::text) {
            const std::string key = tokens_.word();
            token = tokens_.next();
            if (token != JsonToken::colon) {
                continue;
            }
            token = tokens_.next();
            if (token == JsonToken::close_object || token == JsonToken::end) {
                continue;
            }
            member(key, token);
        }
        token = tokens_.next();
    }
    return token == JsonToken::close_object;
}

GeoJsonItem GeoJsonItems::read(JsonToken first) {
    GeoJsonItem item;
    if (first != JsonToken::open_object) {
        skip(first);
        return item;
    }
    item.object = true;
    item.whole = read_members([&](const std::string& key, JsonToken token) {
        if (same_name(key, "type") && token == JsonToken::text) {
            item.type = tokens_.word();
        } else if (same_name(key, "geometry")) {
            item.geometry_fault = read_geometry(token);
        } else if (same_name(key, "properties") && token == JsonToken::open_object) {
            read_properties(item);
        } else if (same_name(key, "properties") &&
                   !(token == JsonToken::bare && tokens_.word() == "null")) {
            item.odd_properties = token == JsonToken::open_array ? "[" : tokens_.word();
            skip(token);
        } else {
            skip(token);
        }
    });
    return item;
}

void GeoJsonItems::read_properties(GeoJsonItem& item) {
    constexpr std::size_t kMost = std::size_t{1} << 24U;
    tokens_.keep(kMost);
    read_members([&](const std::string& key, JsonToken token) {
        if (token == JsonToken::text && tokens_.has_nul()) {
            item.cut_texts.emplace_back(key, decoded(tokens_.word()));
        }
        skip(token);
    });
    tokens_.keep(JsonTokens::kKept);
}

std::string GeoJsonItems::read_geometry(JsonToken first, int depth) {
    constexpr int kDeepest = 30;  // of collections within collections
    if (first == JsonToken::bare && tokens_.word() == "null") {
        return {};
    }
    if (first != JsonToken::open_object || depth > kDeepest) {
        skip(first);
        return "the geometry is no object";
    }
    std::string type;
    std::optional<Coordinates> coordinates;
    std::optional<std::string> parts;
    read_members([&](const std::string& key, JsonToken token) {
        if (same_name(key, "type") && token == JsonToken::text) {
            type = tokens_.word();
        } else if (same_name(key, "coordinates")) {
            coordinates = read_coordinates(token);
        } else if (same_name(key, "geometries")) {
            parts = read_parts(token, depth);
        } else {
            skip(token);
        }
    });
    if (same_name(type, kCollection)) {
        return parts ? *parts : "a GeometryCollection without geometries";
    }
    const auto wanted = depth_of(type);
    if (!wanted) {
        return type.empty() ? "a geometry without a type" : "\"" + type + "\" is no geometry";
    }
    if (!coordinates) {
        return "a " + type + " without coordinates";
    }
    if (coordinates->fault.empty() && coordinates->depth != 0 && coordinates->depth != *wanted) {
        return "the coordinates are not those of a " + type;
    }
    return coordinates->fault;
}

std::string GeoJsonItems::read_parts(JsonToken first, int depth) {
    if (first != JsonToken::open_array) {
        skip(first);
        return "the geometries are no array";
    }
    std::string fault;
    for (JsonToken token = tokens_.next();
         token != JsonToken::close_array && token != JsonToken::end;
         token = tokens_.next()) {
        if (token != JsonToken::comma) {
            keep_first(fault, read_geometry(token, depth + 1));
        }
    }
    return fault;
}

GeoJsonItems::Coordinates GeoJsonItems::read_coordinates(JsonToken first) {
    struct Level {
        bool has_arrays = false;
        std::size_t numbers = 0;
    };
    Coordinates read;
    if (first != JsonToken::open_array) {
        skip(first);
        read.fault = "the coordinates are no array";
        return read;
    }
    std::vector<Level> levels(1);
    while (!levels.empty()) {
        const JsonToken token = tokens_.next();
        Level& level = levels.back();
        if (token == JsonToken::end) {
            return read;
        }
        if (token == JsonToken::open_array) {
            level.has_arrays = true;
            levels.emplace_back();
        } else if (token == JsonToken::close_array || token == JsonToken::close_object) {
            if (level.numbers > 0) {
                if (level.has_arrays || (read.depth != 0 && read.depth != levels.size())) {
                    keep_first(read.fault, "numbers and positions are mixed");
                } else if (level.numbers == 1) {
                    keep_first(read.fault, "a position of one number");
                }
                read.depth = levels.size();
            }
            levels.pop_back();
        } else if (token == JsonToken::open_object) {
            skip(token);
            keep_first(read.fault, "an object stands where a number should");
        } else if (token == JsonToken::text || token == JsonToken::bare) {
            const std::string& word = tokens_.word();
            ++level.numbers;
            if (token == JsonToken::text) {
                keep_first(read.fault, "\"" + word + "\" is no number");
            } else if (!is_number(word)) {
                keep_first(read.fault, word + " is no number");
            }
        }
    }
    return read;
}

}  // namespace linewood
