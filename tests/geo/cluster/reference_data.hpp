#pragma once

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "geo/cluster/neighbour_rows.hpp"
#include "geo/crs/point.hpp"
#include "tests/places/places.hpp"

namespace linewood::test {

using nlohmann::json;

/// A file of tests/published/stats.
inline json published(const std::string& file) {
    std::ifstream in{testing::test_file("published/stats/" + file)};
    return json::parse(in);
}

/// A file of values worked out on data that may not be committed here, from the folder that
/// LINEWOOD_REFERENCE_DATA names or its folder `stats`; null where it is not there, which is then said.
inline json reference(const std::string& file) {
    const char* folder = std::getenv("LINEWOOD_REFERENCE_DATA");
    if (folder != nullptr) {
        for (const char* const within : {"/", "/stats/"}) {
            if (std::ifstream in{folder + (within + file)}) {
                return json::parse(in);
            }
        }
    }
    std::printf("not run: no %s in the folder of LINEWOOD_REFERENCE_DATA\n", file.c_str());
    return nullptr;
}

inline std::vector<double> numbers(const json& list) { return list.get<std::vector<double>>(); }

inline std::vector<std::uint8_t> labels(const json& list) {
    return list.get<std::vector<std::uint8_t>>();
}

/// Coordinates, multiplied: published cases may be in degrees taken as a plane, or in unit squares,
/// and distances are told apart to a micrometre only.
inline std::vector<Point> points(const json& list, double scale = 1.0) {
    std::vector<Point> out;
    for (const auto& xy : list) {
        out.push_back({xy[0].get<double>() * scale, xy[1].get<double>() * scale});
    }
    return out;
}

/// Lists of neighbours by index, as rows; distances are not known and stand at 0.
inline NeighbourRows rows_of(const json& lists) {
    NeighbourRows rows;
    for (const auto& list : lists) {
        for (const auto& near : list) {
            rows.add({0, near.get<std::uint32_t>()});
        }
        rows.end_row();
    }
    return rows;
}

}  // namespace linewood::test
