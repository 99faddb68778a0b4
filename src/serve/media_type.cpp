#include "src/serve/media_type.hpp"

#include <array>
#include <utility>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

// IANA's media types register; FlatGeobuf's and GeoPackage's by their own documents (from memory).
constexpr std::array<std::pair<std::string_view, std::string_view>, 24> kTypes{
    {{"html", "text/html; charset=utf-8"},
     {"htm", "text/html; charset=utf-8"},
     {"css", "text/css; charset=utf-8"},
     {"js", "text/javascript; charset=utf-8"},
     {"mjs", "text/javascript; charset=utf-8"},
     {"json", "application/json"},
     {"geojson", "application/geo+json"},
     {"pbf", "application/vnd.mapbox-vector-tile"},
     {"mvt", "application/vnd.mapbox-vector-tile"},
     {"gpkg", "application/geopackage+sqlite3"},
     {"fgb", "application/flatgeobuf"},
     {"svg", "image/svg+xml"},
     {"png", "image/png"},
     {"jpg", "image/jpeg"},
     {"jpeg", "image/jpeg"},
     {"ico", "image/vnd.microsoft.icon"},
     {"csv", "text/csv; charset=utf-8"},
     {"txt", "text/plain; charset=utf-8"},
     {"md", "text/markdown; charset=utf-8"},
     {"xml", "application/xml"},
     {"sld", "application/vnd.ogc.sld+xml"},
     {"qml", "application/xml"},
     {"pdf", "application/pdf"},
     {"zip", "application/zip"}}};

}  // namespace

std::string_view media_type_of(std::string_view file_name) {
    const std::size_t dot = file_name.rfind('.');
    if (dot != std::string_view::npos) {
        for (const auto& [ending, type] : kTypes) {
            if (same_name(file_name.substr(dot + 1), ending)) {
                return type;
            }
        }
    }
    return "application/octet-stream";
}

}  // namespace linewood
