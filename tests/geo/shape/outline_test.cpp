#include "geo/shape/outline.hpp"

#include <numbers>

#include <gtest/gtest.h>

#include "geo/shape/area_lookup.hpp"

namespace linewood {
namespace {

Polygons square(double x, double y, double side) {
    return {{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}}};
}

TEST(Outline, FollowsALineAtItsMargin) {
    const Polygons around = outline({{{{0, 0}, {100, 0}}}, {}}, 10.0, 0.0);
    ASSERT_EQ(around.size(), 1U);
    EXPECT_EQ(around[0].size(), 1U);
    // The strip and two half circles, these as polygons of 16 corners.
    EXPECT_NEAR(area_of(around), 2000.0 + std::numbers::pi * 100.0, 12.0);
}

TEST(Outline, JoinsWhatIsNearAndKeepsApartWhatIsNot) {
    const OutlineOf two{{{{0, 0}, {100, 0}}, {{0, 60}, {100, 60}}}, {}};
    EXPECT_EQ(outline(two, 10.0, 0.0).size(), 2U);
    EXPECT_EQ(outline(two, 10.0, 15.0).size(), 2U);
    EXPECT_EQ(outline(two, 10.0, 25.0).size(), 1U);
}

TEST(Outline, GoesAroundSinglePoles) {
    EXPECT_EQ(outline({{{{5, 5}}}, {{100, 100}}}, 1.0, 0.0).size(), 2U);
    EXPECT_TRUE(outline({}, 1.0, 0.0).empty());
}

TEST(Outline, IsCutWhereAnotherIs) {
    const Polygons left = cut_away(square(0, 0, 10), {square(5, 0, 10), square(0, 0, 1)});
    EXPECT_DOUBLE_EQ(area_of(left), 49.0);
    EXPECT_TRUE(cut_away(square(0, 0, 10), {square(-1, -1, 20)}).empty());
    // A hole stays a hole.
    EXPECT_DOUBLE_EQ(area_of(cut_away(square(0, 0, 10), {square(4, 4, 2)})), 96.0);
}

TEST(Outline, PutsCrossedBordersRight) {
    bool valid = true;
    const Polygons bow{{{{0, 0}, {10, 10}, {10, 0}, {0, 10}}}};
    EXPECT_DOUBLE_EQ(area_of(made_valid(bow, valid)), 50.0);
    EXPECT_FALSE(valid);
    made_valid(square(0, 0, 1), valid);
    EXPECT_TRUE(valid);
}

TEST(AreaLookup, FindsAllAreasOfAPlaceBordersIncluded) {
    const Polygons ring = cut_away(square(20, 0, 10), {square(24, 4, 2)});
    const AreaLookup lookup{{square(0, 0, 10), square(10, 0, 5), {}, square(8, 2, 4), ring}};
    using Found = std::vector<std::uint32_t>;
    EXPECT_EQ(lookup.areas_at({1, 1}), (Found{0}));
    EXPECT_EQ(lookup.areas_at({9, 3}), (Found{0, 3}));
    EXPECT_EQ(lookup.areas_at({10, 1}), (Found{0, 1}));
    EXPECT_EQ(lookup.areas_at({25, 5}), Found{});
    EXPECT_EQ(lookup.areas_at({21, 5}), (Found{4}));
    EXPECT_EQ(lookup.areas_at({1, 99}), Found{});
}

}  // namespace
}  // namespace linewood
