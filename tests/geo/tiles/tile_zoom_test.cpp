#include "geo/tiles/tile_zoom.hpp"

#include <algorithm>
#include <map>
#include <mutex>
#include <numeric>
#include <random>
#include <set>

#include <gtest/gtest.h>

#include "geo/tiles/tile_properties.hpp"
#include "tests/geo/tiles/tile_reader.hpp"

namespace linewood {
namespace {

using testing::read_tile;
using testing::ReadFeature;
using testing::ReadLayer;

/// Rows with an id, and from zoom 12 on with a long text as well.
class MadeRows : public TileRows {
public:
    explicit MadeRows(const std::vector<TilePole>& poles) : poles_{poles} {}
    std::span<const std::string> keys() const override { return keys_; }
    std::size_t most_bytes(std::uint32_t pole, int zoom) const override {
        return row(pole, zoom).most_bytes();
    }
    void read(std::uint32_t pole, int zoom, std::string& packed) const override {
        packed = row(pole, zoom).packed();
    }
    void read_counted(std::uint32_t count, std::string& packed) const override {
        TileProperties properties;
        properties.add_number(1, count);
        packed = properties.packed();
    }

private:
    TileProperties row(std::uint32_t pole, int zoom) const {
        TileProperties properties;
        properties.add_text(0, "P" + std::to_string(poles_[pole].id));
        if (zoom >= 12) {
            properties.add_text(2, std::string(poles_[pole].id % 300, 'n'));
        }
        return properties;
    }
    const std::vector<TilePole>& poles_;
    std::vector<std::string> keys_{"pole_id", "count", "note"};
};

using Tiles = std::map<TileId, std::string>;

struct Cut {
    Tiles tiles;
    ZoomTally tally;
};

Cut cut(const std::vector<TilePole>& poles, int zoom, TileLimits limits, unsigned threads = 1) {
    const MadeRows rows{poles};
    const TileCutter cutter{"poles", poles, rows, limits};
    Cut out;
    std::mutex mutex;
    bool stopped = true;
    out.tally = cutter.cut(
        zoom,
        threads,
        [&](const TileId& tile, std::string_view bytes) {
            const std::lock_guard lock{mutex};
            EXPECT_TRUE(out.tiles.emplace(tile, bytes).second);
        },
        {},
        stopped);
    EXPECT_FALSE(stopped);
    return out;
}

/// Poles in towns and lines about a place, of every severity.
std::vector<TilePole> made_poles(std::size_t count, unsigned seed, double spread_degrees) {
    std::mt19937_64 random{seed};
    std::normal_distribution<double> off{0.0, spread_degrees};
    std::uniform_int_distribution<int> severity{0, 4};
    std::uniform_real_distribution<double> middle_x{-180.0, 180.0};
    const double x = middle_x(random);
    std::vector<TilePole> poles;
    for (std::size_t i = 0; i < count; ++i) {
        const double latitude = std::clamp(40.0 + off(random), -85.0, 85.0);
        poles.push_back(TilePole{*world_place(x + off(random), latitude),
                                 static_cast<std::uint8_t>(severity(random)),
                                 i});
    }
    return poles;
}

bool inside(const ReadFeature& f) { return f.x >= 0 && f.x < 4096 && f.y >= 0 && f.y < 4096; }

/// What must hold of every cut, seen from the tiles alone.
void expect_sound(const std::vector<TilePole>& poles, int zoom, TileLimits limits, const Cut& cut) {
    TileCounts total{};
    for (const TilePole& pole : poles) {
        ++total[pole.severity];
    }
    TileCounts kept{};
    std::uint64_t counted = 0;
    std::set<std::uint64_t> ids;
    for (const auto& [tile, bytes] : cut.tiles) {
        EXPECT_LE(bytes.size(), limits.bytes);
        const ReadLayer layer = read_tile(bytes);
        EXPECT_EQ(layer.name, "poles");
        EXPECT_EQ(layer.version, 2U);
        EXPECT_EQ(layer.extent, 4096U);
        EXPECT_FALSE(layer.features.empty());
        std::size_t own = 0;
        std::uint8_t last = 255;
        for (const ReadFeature& feature : layer.features) {
            EXPECT_TRUE(feature.x >= -64 && feature.x < 4160 && feature.y >= -64 &&
                        feature.y < 4160);
            own += inside(feature) ? 1U : 0U;
            if (!feature.id) {
                EXPECT_TRUE(inside(feature));
                counted += static_cast<std::uint64_t>(feature.number("count"));
                continue;
            }
            const TilePole& pole = poles[*feature.id];
            EXPECT_EQ(feature.text("pole_id"), "P" + std::to_string(*feature.id));
            EXPECT_LE(pole.severity, last) << "the gravest are drawn last";
            last = pole.severity;
            if (inside(feature)) {
                EXPECT_TRUE(ids.insert(*feature.id).second);
                EXPECT_EQ(tile, tile_of(pole.place, zoom));
                EXPECT_EQ((TilePoint{static_cast<std::int32_t>(feature.x),
                                     static_cast<std::int32_t>(feature.y)}),
                          point_in_tile(pole.place, zoom));
                ++kept[pole.severity];
            }
        }
        EXPECT_LE(own, limits.features);
    }
    EXPECT_EQ(kept, cut.tally.kept);
    EXPECT_EQ(counted, cut.tally.counted[0]);
    for (std::size_t s = 0; s < kTileSeverities; ++s) {
        EXPECT_EQ(cut.tally.kept[s] + cut.tally.counted[s] + cut.tally.left_out[s], total[s]);
    }
    EXPECT_EQ(cut.tally.left_out[0], 0U) << "the gravest are shown or counted";
    EXPECT_EQ(cut.tally.tiles, cut.tiles.size());
}

TEST(TileCutter, ShowsAllWhereThereIsRoom) {
    const auto poles = made_poles(5000, 1, 0.3);
    for (const int zoom : {0, 5, 9, 12, 16}) {
        const TileLimits limits{20000, 5000000};
        const Cut out = cut(poles, zoom, limits);
        expect_sound(poles, zoom, limits, out);
        EXPECT_TRUE(out.tally.complete());
        EXPECT_EQ(out.tally.counted_points, 0U);
    }
}

TEST(TileCutter, HoldsTheLimitsForAnyPolesAndLosesNone) {
    std::mt19937_64 random{2};
    for (unsigned run = 0; run < 60; ++run) {
        const auto poles =
            made_poles(1 + random() % 3000, run, 0.001 * static_cast<double>(1 + random() % 900));
        const int zoom = static_cast<int>(random() % 17);
        const TileLimits limits{1 + random() % 1500, 2000 + random() % 60000};
        expect_sound(poles, zoom, limits, cut(poles, zoom, limits));
    }
}

TEST(TileCutter, TakesTheGravestFirst) {
    const auto poles = made_poles(4000, 3, 0.01);
    const TileLimits limits{2000, 500000};
    const Cut out = cut(poles, 4, limits);
    expect_sound(poles, 4, limits, out);
    bool left_out_before = false;
    for (std::size_t s = 0; s < kTileSeverities; ++s) {
        if (left_out_before) {
            EXPECT_EQ(out.tally.kept[s], 0U) << s;
        }
        left_out_before = out.tally.left_out[s] > 0;
    }
    EXPECT_TRUE(left_out_before);
    EXPECT_EQ(out.tally.counted[0], 0U);
}

TEST(TileCutter, CountsTheGravestWhereTheyAreTooMany) {
    auto poles = made_poles(4000, 4, 5.0);
    for (TilePole& pole : poles) {
        pole.severity = 0;
    }
    const TileLimits limits{1000, 500000};
    const Cut out = cut(poles, 2, limits);
    expect_sound(poles, 2, limits, out);
    EXPECT_GT(out.tally.counted_points, 0U);
    EXPECT_GT(out.tally.kept[0], 0U) << "one that is alone in its cell stays itself";
}

TEST(TileCutter, CountsPolesThatAllStandInOnePlace) {
    const std::vector<TilePole> poles(300, TilePole{*world_place(10.0, 50.0), 0, 7});
    const Cut out = cut(poles, 16, {100, 500000});
    ASSERT_EQ(out.tiles.size(), 1U);
    const ReadLayer layer = read_tile(out.tiles.begin()->second);
    ASSERT_EQ(layer.features.size(), 1U);
    EXPECT_EQ(layer.features.front().number("count"), 300.0);
    EXPECT_FALSE(layer.features.front().id);
}

TEST(TileCutter, ThinsEvenlyOverTheTile) {
    // A square of poles of one kind, half of which has room: each quarter keeps about half of its own.
    std::vector<TilePole> poles;
    for (std::uint32_t i = 0; i < 10000; ++i) {
        poles.push_back(
            TilePole{WorldPlace{i % 100 * 42000000U + 9000U, i / 100 * 42000000U + 9000U}, 4, i});
    }
    const Cut out = cut(poles, 0, {5000, 5000000});
    std::map<std::pair<bool, bool>, int> quarters;
    for (const ReadFeature& f : read_tile(out.tiles.begin()->second).features) {
        ++quarters[{f.x < 2048, f.y < 2048}];
    }
    ASSERT_EQ(quarters.size(), 4U);
    for (const auto& [quarter, count] : quarters) {
        EXPECT_NEAR(count, 1250, 150);
    }
}

TEST(TileCutter, GivesTheSameBytesForAnyOrderAndNumberOfThreads) {
    auto poles = made_poles(3000, 5, 0.2);
    const TileLimits limits{800, 40000};
    for (const int zoom : {3, 9, 12}) {
        const Cut once = cut(poles, zoom, limits);
        EXPECT_EQ(cut(poles, zoom, limits, 4).tiles, once.tiles);
        auto shuffled = poles;
        std::shuffle(shuffled.begin(), shuffled.end(), std::mt19937_64{6});
        EXPECT_EQ(cut(shuffled, zoom, limits, 2).tiles, once.tiles);
    }
}

TEST(TileCutter, StandsInTheBuffersOfTheTilesNextToIt) {
    // At a corner of four tiles.
    const std::vector<TilePole> poles{TilePole{WorldPlace{1U << 31U, 1U << 31U}, 2, 0}};
    const Cut out = cut(poles, 1, {});
    ASSERT_EQ(out.tiles.size(), 4U);
    for (const auto& [tile, bytes] : out.tiles) {
        const ReadLayer layer = read_tile(bytes);
        ASSERT_EQ(layer.features.size(), 1U);
        EXPECT_EQ(layer.features[0].x, tile.x == 1 ? 0 : 4096);
        EXPECT_EQ(layer.features[0].y, tile.y == 1 ? 0 : 4096);
        EXPECT_EQ(layer.features[0].id, 0U);
    }
}

TEST(TileCutter, StandsOnBothSidesOfTheDateLineAndNotBeyondThePoles) {
    const std::vector<TilePole> poles{TilePole{*world_place(180.0, 20.0), 0, 0},
                                      TilePole{*world_place(179.9999999, -20.0), 1, 1},
                                      TilePole{*world_place(30.0, kMercatorLatitude), 2, 2},
                                      TilePole{*world_place(30.0, -kMercatorLatitude), 3, 3}};
    const Cut out = cut(poles, 4, {});
    std::map<std::uint64_t, std::set<std::uint32_t>> columns;
    for (const auto& [tile, bytes] : out.tiles) {
        for (const ReadFeature& f : read_tile(bytes).features) {
            columns[*f.id].insert(tile.x);
            EXPECT_LT(tile.y, 16U);
        }
    }
    EXPECT_EQ(columns[0], (std::set<std::uint32_t>{0, 15}));
    EXPECT_EQ(columns[1], (std::set<std::uint32_t>{0, 15}));
    EXPECT_EQ(columns[2].size(), 1U);
    EXPECT_EQ(columns[3].size(), 1U);
    EXPECT_EQ(cut(poles, 0, {}).tiles.size(), 1U);
}

TEST(TileCutter, NoPolesNoTiles) {
    const Cut out = cut({}, 5, {});
    EXPECT_TRUE(out.tiles.empty());
    EXPECT_TRUE(out.tally.complete());
}

TEST(TileCutter, StopsWhereItIsToldTo) {
    const auto poles = made_poles(2000, 8, 3.0);
    const MadeRows rows{poles};
    const TileCutter cutter{"poles", poles, rows, {}};
    bool stopped = false;
    int calls = 0;
    cutter.cut(
        10,
        1,
        [](const TileId&, std::string_view) {},
        [&](double) { return ++calls < 5; },
        stopped);
    EXPECT_TRUE(stopped);
    EXPECT_EQ(calls, 5);
}

}  // namespace
}  // namespace linewood
