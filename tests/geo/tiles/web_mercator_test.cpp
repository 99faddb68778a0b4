#include "geo/tiles/web_mercator.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include <gtest/gtest.h>

namespace linewood {
namespace {

/// Longitude and latitude of a place in a tile, by the formulas the other way round.
std::pair<double, double> degrees_of(const TileId& tile, TilePoint at) {
    const double side = std::ldexp(1.0, tile.zoom);
    const double x = (tile.x + at.x / static_cast<double>(kTileExtent)) / side;
    const double y = (tile.y + at.y / static_cast<double>(kTileExtent)) / side;
    const double latitude = std::atan(std::sinh(std::numbers::pi * (1.0 - 2.0 * y)));
    return {x * 360.0 - 180.0, latitude * 180.0 / std::numbers::pi};
}

TEST(WebMercator, KnownTiles) {
    // Computed by hand from x = n (lon + 180) / 360, y = n (1 - asinh(tan lat) / pi) / 2.
    const auto place = world_place(-122.4194, 37.7749);
    ASSERT_TRUE(place);
    EXPECT_EQ(tile_of(*place, 0), (TileId{0, 0, 0}));
    EXPECT_EQ(tile_of(*place, 12), (TileId{12, 655, 1583}));
    EXPECT_EQ(tile_of(*world_place(0.0, 0.0), 1), (TileId{1, 1, 1}));
    EXPECT_EQ(point_in_tile(*world_place(0.0, 0.0), 0), (TilePoint{2048, 2048}));
}

TEST(WebMercator, TheDateLineIsTheWesternBorder) {
    for (const double longitude : {180.0, -180.0, 540.0}) {
        const auto place = world_place(longitude, 10.0);
        ASSERT_TRUE(place);
        EXPECT_EQ(place->x, 0U);
    }
    EXPECT_EQ(world_place(190.0, 10.0), world_place(-170.0, 10.0));
    EXPECT_EQ(world_place(179.999999999, 10.0)->x, 4294967295U);
    EXPECT_EQ(world_place(-180.000000001, 10.0)->x, 4294967295U);
    EXPECT_EQ(tile_of(*world_place(179.9999999, 10.0), 12).x, 4095U);
}

TEST(WebMercator, NothingBeyondItsLatitudeOrWithoutNumbers) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const double inf = std::numeric_limits<double>::infinity();
    EXPECT_TRUE(world_place(0.0, kMercatorLatitude));
    EXPECT_TRUE(world_place(0.0, -kMercatorLatitude));
    EXPECT_EQ(tile_of(*world_place(0.0, kMercatorLatitude), 16).y, 0U);
    EXPECT_EQ(tile_of(*world_place(0.0, -kMercatorLatitude), 16).y, 65535U);
    for (const double latitude : {85.06, -85.06, 90.0, -90.0, 91.0, nan, inf}) {
        EXPECT_FALSE(world_place(0.0, latitude)) << latitude;
    }
    EXPECT_FALSE(world_place(nan, 0.0));
    EXPECT_FALSE(world_place(-inf, 0.0));
}

TEST(WebMercator, APlaceOnABorderIsInOneTileAndInside) {
    for (int zoom = 0; zoom <= kDeepestZoom; ++zoom) {
        const auto tile = std::uint64_t{1} << (32 - zoom);
        for (const std::uint64_t border : {tile, tile * 3}) {
            const auto on = static_cast<std::uint32_t>(border);
            const WorldPlace west{on - 1, on - 1};
            const WorldPlace east{on, on};
            EXPECT_EQ(point_in_tile(west, zoom), (TilePoint{4095, 4095}));
            EXPECT_EQ(point_in_tile(east, zoom), (TilePoint{0, 0}));
            if (zoom > 0) {
                EXPECT_NE(tile_of(west, zoom), tile_of(east, zoom));
            }
        }
    }
}

TEST(WebMercator, PlacesComeBackWithinHalfAUnit) {
    std::mt19937_64 random{7};
    std::uniform_real_distribution<double> longitudes{-180.0, 180.0};
    std::uniform_real_distribution<double> latitudes{-85.0, 85.0};
    for (int i = 0; i < 20000; ++i) {
        const double longitude = longitudes(random);
        const double latitude = latitudes(random);
        const int zoom = i % (kDeepestZoom - 3);
        const WorldPlace place = *world_place(longitude, latitude);
        const TilePoint at = point_in_tile(place, zoom);
        ASSERT_TRUE(at.x >= 0 && at.x < kTileExtent && at.y >= 0 && at.y < kTileExtent);
        const auto [x, y] = degrees_of(tile_of(place, zoom), at);
        // On the last half unit before a border it is a whole one.
        const double unit = 360.0 / std::ldexp(kTileExtent, zoom);
        EXPECT_NEAR(x, longitude, (at.x == kTileExtent - 1 ? 1.01 : 0.51) * unit);
        EXPECT_NEAR(y, latitude, (at.y == kTileExtent - 1 ? 1.01 : 0.51) * unit);
        EXPECT_EQ(tile_at(tile_order(place), zoom), tile_of(place, zoom));
        EXPECT_EQ(tile_at(tile_order(tile_of(place, zoom)), zoom), tile_of(place, zoom));
    }
}

}  // namespace
}  // namespace linewood
