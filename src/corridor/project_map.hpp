#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "assess/verdict/verdict.hpp"
#include "geo/crs/point.hpp"

namespace linewood {

/// Characters of an id on the map.
inline constexpr std::size_t kMapIdLetters = 16;

/// A line on the map, in metres, y north.
struct MapLine {
    std::vector<Point> path;
    bool of_project = false;  ///< else of the line around it
};

struct MapPole {
    Point place;
    std::string label;  ///< its id, short
    Verdict verdict = Verdict::unassessed;
    bool now = false;
    bool labelled = false;  ///< the label is written where there is room
};

struct ProjectMap {
    std::string_view title;
    std::vector<MapLine> lines;
    std::vector<MapPole> poles;
};

/// A small map for a page: the project's stretch thick, the line around it thin, poles by verdict, ids where
/// they fit, a scale bar, the key to the marks. Up is north of the plane. Points that are not finite are
/// left out; without a pole that has a place there is no map, and the text is empty.
std::string draw_project_map(const ProjectMap& map);

}  // namespace linewood
