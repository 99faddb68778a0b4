#include "geo/io/geojson_lines.h"

#include <fstream>

#include <cpl_json.h>

#include "geo/io/gdal_session.h"

namespace linewood {
namespace {

constexpr char kRecordSeparator = '\x1E';
constexpr std::size_t kShown = 100;

bool is_blank(const std::string& line) {
    return line.find_first_not_of(" \t\r\x1E") == std::string::npos;
}

bool is_json_object(const std::string& text) {
    const ErrorCollector quiet;
    CPLJSONDocument document;
    return document.LoadMemory(text) && document.GetRoot().GetType() == CPLJSONObject::Type::Object;
}

}  // namespace

LostLines lost_geojson_lines(const std::string& file, std::int64_t read, std::size_t most_shown) {
    LostLines lost;
    std::ifstream in{file, std::ios::binary};
    std::string line;
    std::int64_t texts = 0;
    while (std::getline(in, line)) {
        if (texts == 0 && !line.empty() && line.front() == kRecordSeparator) {
            return lost;  // a text may go over many lines: GDAL's own count has to do
        }
        texts += is_blank(line) ? 0 : 1;
    }
    if (texts <= read) {
        return lost;
    }
    lost.all = texts - read;
    std::int64_t broken = 0;
    in.clear();
    in.seekg(0);
    for (std::int64_t number = 1; std::getline(in, line); ++number) {
        if (is_blank(line) || is_json_object(line)) {
            continue;
        }
        ++broken;
        if (lost.lines.size() < most_shown) {
            lost.lines.push_back("line " + std::to_string(number) +
                                 " is no feature: " + line.substr(0, kShown));
        }
    }
    lost.unread = lost.all > broken ? lost.all - broken : 0;
    return lost;
}

}  // namespace linewood
