#include "geo/io/place_names.h"

#include <array>
#include <string_view>
#include <utility>

#include "geo/io/layer_schema.hpp"

namespace linewood {
namespace {

using Pair = std::pair<std::string_view, std::string_view>;

constexpr std::array<std::string_view, 5> kShapes{"wkt", "geom", "geometry", "the_geom", "_wkt"};
constexpr std::array<Pair, 7> kPairs{{
    {"x", "y"},
    {"lon", "lat"},
    {"long", "lat"},
    {"longitude", "latitude"},
    {"easting", "northing"},
    {"lon_dd", "lat_dd"},
    {"coord_x", "coord_y"},
}};
// Of each the first are those that the tool writes.
constexpr std::size_t kWrittenShapes = 1;
constexpr std::size_t kWrittenPairs = 2;
constexpr std::size_t kMostMarks = 20;

std::optional<std::size_t> find_name(const std::vector<std::string>& names, std::string_view name) {
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (same_name(names[i], name)) {
            return i;
        }
    }
    return std::nullopt;
}

std::string marked(std::string_view name, std::size_t marks) {
    std::string out;
    for (std::size_t i = 0; i < marks; ++i) {
        out += "geom_";
    }
    return out += name;
}

std::optional<PlaceColumns> find_marked(const std::vector<std::string>& names, std::size_t marks) {
    for (std::size_t i = 0; i < (marks > 0 ? kWrittenShapes : kShapes.size()); ++i) {
        if (const auto shape = find_name(names, marked(kShapes.at(i), marks))) {
            return PlaceColumns{*shape, *shape, true};
        }
    }
    for (std::size_t i = 0; i < (marks > 0 ? kWrittenPairs : kPairs.size()); ++i) {
        const auto x = find_name(names, marked(kPairs.at(i).first, marks));
        const auto y = find_name(names, marked(kPairs.at(i).second, marks));
        if (x && y) {
            return PlaceColumns{*x, *y, false};
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<PlaceColumns> place_columns(const std::vector<std::string>& names) {
    for (std::size_t marks = kMostMarks; marks > 0; --marks) {
        if (const auto found = find_marked(names, marks)) {
            return found;
        }
    }
    return find_marked(names, 0);
}

bool ogr_takes_another(const std::vector<std::string>& names, const PlaceColumns& places) {
    constexpr std::string_view kBegin = "_wkt";
    for (std::size_t i = 0; i < names.size(); ++i) {
        const std::string_view name = names[i];
        if (!(places.shape && places.x == i) &&
            (same_name(name, "wkt") || same_name(name.substr(0, kBegin.size()), kBegin))) {
            return true;
        }
    }
    return false;
}

std::vector<std::string> free_place_names(const std::vector<std::string>& names,
                                          const std::vector<std::string>& others) {
    std::vector<std::string> chosen;
    for (std::size_t marks = 0; marks <= kMostMarks; ++marks) {
        chosen.clear();
        bool free = true;
        for (const std::string& name : names) {
            chosen.push_back(marked(name, marks));
            free = free && !find_name(others, chosen.back());
        }
        std::vector<std::string> all = others;
        all.insert(all.end(), chosen.begin(), chosen.end());
        const auto found = place_columns(all);
        if (free && found && found->x == others.size() && found->y + 1 == all.size()) {
            break;
        }
    }
    return chosen;
}

}  // namespace linewood
