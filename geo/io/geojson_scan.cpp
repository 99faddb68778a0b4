#include "geo/io/geojson_scan.h"

#include <algorithm>
#include <fstream>

#include <cpl_json.h>

#include "geo/io/gdal_session.h"
#include "geo/io/geojson_item.h"
#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

constexpr char kRecordSeparator = '\x1E';
constexpr std::size_t kMostLost = 20;

std::string at_line(std::int64_t line, const std::string& what) {
    return "line " + std::to_string(line) + what;
}

class Scan {
public:
    void take_feature(const GeoJsonItem& item, std::int64_t line) {
        if (!item.geometry_fault.empty()) {
            found.rows.push_back(
                {found.features,
                 {DamageKind::geometry, "geometry", at_line(line, ": " + item.geometry_fault)}});
        }
        for (const auto& [column, text] : item.cut_texts) {
            found.cut_texts.push_back({found.features, column, text});
        }
        if (!item.odd_properties.empty()) {
            lose(at_line(line, ": the properties are no object: " + item.odd_properties));
        }
        ++found.features;
    }
    void take_other(std::int64_t line, const std::string& text) {
        lose(at_line(line, " is no feature: " + text));
        ++found.others;
    }

    GeoJsonScan finish() {
        if (lost_ > kMostLost) {
            found.lost.push_back({DamageKind::row_lost,
                                  "",
                                  "and " + std::to_string(lost_ - kMostLost) + " more like these"});
        }
        return std::move(found);
    }

    GeoJsonScan found;

private:
    void lose(std::string what) {
        if (++lost_ <= kMostLost) {
            found.lost.push_back({DamageKind::row_lost, "", std::move(what)});
        }
    }
    std::size_t lost_ = 0;
};

/// GDAL makes a feature of every object among the features, an empty one where it is something else.
void scan_features(JsonTokens& tokens, Scan& scan) {
    GeoJsonItems items{tokens};
    for (JsonToken token = tokens.next();
         token != JsonToken::close_array && token != JsonToken::end;
         token = tokens.next()) {
        if (token == JsonToken::comma) {
            continue;
        }
        tokens.start_record();
        const std::int64_t line = tokens.line();
        const GeoJsonItem item = items.read(token);
        if (!item.is_feature()) {
            scan.take_other(line, tokens.record());
        }
        if (item.object) {
            scan.take_feature(item, line);
        }
    }
}

GeoJsonScan scan_collection(const std::string& file) {
    std::ifstream in{file, std::ios::binary};
    JsonTokens tokens{in};
    Scan scan;
    if (tokens.next() != JsonToken::open_object) {
        return {};
    }
    GeoJsonItems items{tokens};
    GeoJsonItem whole;  // a single feature is one, too
    std::int64_t line = 1;
    items.read_members([&](const std::string& key, JsonToken token) {
        if (same_name(key, "features") && token == JsonToken::open_array) {
            scan_features(tokens, scan);
        } else if (same_name(key, "geometry")) {
            line = tokens.line();
            whole.geometry_fault = items.read_geometry(token);
        } else {
            items.skip(token);
        }
    });
    if (!whole.geometry_fault.empty() && scan.found.features == 0) {
        scan.take_feature(whole, line);
    }
    return scan.finish();
}

bool is_blank(const std::string& text) {
    return text.find_first_not_of(" \t\r\n\x1E") == std::string::npos;
}

/// As GDAL parses it.
bool is_json_object(const std::string& text) {
    const ErrorCollector quiet;
    CPLJSONDocument document;
    return document.LoadMemory(text) && document.GetRoot().GetType() == CPLJSONObject::Type::Object;
}

/// Without spaces and line breaks about it.
std::string beginning(const std::string& text) {
    const std::size_t first = text.find_first_not_of(" \t\r\n\x1E");
    const std::string shown = text.substr(first, JsonTokens::kKept);
    return shown.substr(0, shown.find_last_not_of(" \t\r\n\x1E") + 1);
}

/// @param careful ask GDAL's parser of every text whether it is one, so that rows are counted as GDAL does.
GeoJsonScan scan_sequence(const std::string& file, bool careful, bool& clean) {
    std::ifstream in{file, std::ios::binary};
    const char sign = in.peek() == kRecordSeparator ? kRecordSeparator : '\n';
    Scan scan;
    std::string text;
    clean = true;
    std::int64_t line = 1;
    for (; std::getline(in, text, sign);) {
        const auto breaks = std::count(text.begin(), text.end(), '\n');
        if (!is_blank(text)) {
            JsonTokens tokens{text, line};
            GeoJsonItems items{tokens};
            const JsonToken first = tokens.next();
            const std::int64_t begin = tokens.line();
            const GeoJsonItem item = items.read(first);
            const bool one = item.whole && tokens.next() == JsonToken::end;
            const bool feature = one && (item.is_feature() || item.is_geometry()) &&
                                 !(careful && !is_json_object(text));
            clean = clean && feature && item.geometry_fault.empty() &&
                    item.odd_properties.empty() && item.cut_texts.empty();
            if (feature) {
                scan.take_feature(item, begin);
            } else {
                scan.take_other(begin, beginning(text));
            }
        }
        line += breaks + (sign == '\n' ? 1 : 0);
    }
    return scan.finish();
}

}  // namespace

GeoJsonScan scan_geojson(const std::string& file, bool sequence) {
    if (!sequence) {
        return scan_collection(file);
    }
    bool clean = true;
    GeoJsonScan scan = scan_sequence(file, false, clean);
    return clean ? scan : scan_sequence(file, true, clean);
}

}  // namespace linewood
