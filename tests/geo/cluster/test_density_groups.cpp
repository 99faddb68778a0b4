#include <map>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/density_groups.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "tests/geo/cluster/reference_data.hpp"

namespace linewood {
namespace {

DensityGroups groups_of(const std::vector<Point>& poles, double reach, std::size_t min_poles) {
    return density_groups(std::vector<std::uint8_t>(poles.size(), 1),
                          band_rows(PlaneNeighbours{poles}, reach),
                          min_poles);
}

void check(const char* file) {
    const auto table = test::reference(file);
    if (table.is_null()) {
        GTEST_SKIP() << "not run";
    }
    const auto& in = table["inputs"];
    const auto& expected = table["expected"];
    const DensityGroups groups = groups_of(test::points(in["xy"], 1000.0),
                                           in["eps"].get<double>() * 1000.0,
                                           in["min_pts"].get<std::size_t>());
    EXPECT_EQ(groups.count, expected["n_clusters"].get<std::uint32_t>());
    for (std::size_t i = 0; i < groups.group.size(); ++i) {
        EXPECT_EQ(groups.core[i], expected["core"][i].get<int>() == 1) << i;
        EXPECT_EQ(groups.group[i] == 0, expected["noise"][i].get<int>() == 1) << i;
        EXPECT_EQ(groups.neighbours[i],
                  expected["neighbour_count_incl_self"][i].get<std::uint32_t>())
            << i;
        // No border pole of these is between two groups, so the numbers are the same as well.
        EXPECT_EQ(groups.group[i], expected["cluster"][i].get<std::uint32_t>()) << i;
    }
}

TEST(density_groups, reference_humberside) { check("dbscan_humberside_cases.json"); }

TEST(density_groups, reference_moons) { check("dbscan_moons.json"); }

/// A pole between two groups of eight, each with one core pole 20 m from the other: at x = 20 the
/// one of lower number, at x = 0 the other.
std::vector<Point> between(double x) {
    std::vector<Point> poles{{x, 0}};
    for (int i = 0; i < 8; ++i) {
        poles.push_back({20.0 + i, 0});
    }
    for (int i = 0; i < 8; ++i) {
        poles.push_back({0.0 - i, 0});
    }
    return poles;
}

TEST(density_groups, a_border_pole_goes_to_the_nearest_core_pole) {
    const DensityGroups right = groups_of(between(10.2), 10.5, 8);
    EXPECT_EQ(right.count, 2U);
    EXPECT_FALSE(right.core[0]);
    EXPECT_EQ(right.neighbours[0], 3U);
    EXPECT_EQ(right.group[1], 1U);
    EXPECT_EQ(right.group[9], 2U);
    EXPECT_EQ(right.group[0], 1U);
    EXPECT_EQ(groups_of(between(9.8), 10.5, 8).group[0], 2U);
    EXPECT_EQ(groups_of(between(9.4), 10.5, 8).group[0], 2U);  // out of reach of the other
}

TEST(density_groups, at_the_same_distance_the_lower_group) {
    EXPECT_EQ(groups_of(between(10.0), 10.5, 8).group[0], 1U);
}

TEST(density_groups, only_grouped_poles_count) {
    std::vector<Point> poles;
    std::vector<std::uint8_t> decayed;
    for (int i = 0; i < 30; ++i) {
        poles.push_back({10.0 * i, 0.0});
        decayed.push_back(i < 6 || i % 3 == 0 ? 1 : 0);
    }
    const NeighbourRows rows = band_rows(PlaneNeighbours{poles}, 20.0);
    const DensityGroups groups = density_groups(decayed, rows, 4);
    EXPECT_EQ(groups.count, 1U);
    EXPECT_EQ(groups.group[5], 1U);
    EXPECT_EQ(groups.group[6], 1U);  // decayed, 20 m from a core pole
    EXPECT_EQ(groups.group[7], 0U);  // not decayed
    EXPECT_EQ(groups.group[9], 0U);
    EXPECT_EQ(groups.neighbours[7], 0U);
    EXPECT_EQ(groups.neighbours[12], 1U);
    const std::vector<std::uint8_t> none(30, 0);
    EXPECT_EQ(density_groups(none, rows).count, 0U);
}

TEST(density_groups, poles_at_one_place_are_one_group) {
    const std::vector<Point> poles(5, Point{3.0, 4.0});
    const DensityGroups groups = groups_of(poles, 0.0, 4);
    EXPECT_EQ(groups.count, 1U);
    EXPECT_EQ(groups.neighbours[4], 5U);
}

}  // namespace
}  // namespace linewood
