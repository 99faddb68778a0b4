// Neighbours against slow second ways: every pair, and Floyd-Warshall over the spans.

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include <gtest/gtest.h>

#include "geo/cluster/neighbour_rows.hpp"
#include "geo/cluster/plane_neighbours.hpp"
#include "geo/cluster/span_neighbours.hpp"
#include "geo/stats/replicate_random.hpp"
#include "tests/geo/cluster/reference_data.hpp"

namespace linewood {
namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;

using Table = std::vector<std::vector<std::int64_t>>;

Table straight(const std::vector<Point>& poles) {
    Table table(poles.size(), std::vector<std::int64_t>(poles.size()));
    for (std::size_t i = 0; i < poles.size(); ++i) {
        for (std::size_t j = 0; j < poles.size(); ++j) {
            const double m = std::hypot(poles[i].x - poles[j].x, poles[i].y - poles[j].y);
            table[i][j] = std::llround(m * 1e6);
        }
    }
    return table;
}

Table along_spans(std::size_t nodes, const std::vector<SpanEdge>& edges) {
    Table table(nodes, std::vector<std::int64_t>(nodes, kFar));
    for (std::size_t i = 0; i < nodes; ++i) {
        table[i][i] = 0;
    }
    for (const SpanEdge& edge : edges) {
        const std::int64_t um = std::llround(edge.length_m * 1e6);
        table[edge.a][edge.b] = std::min(table[edge.a][edge.b], um);
        table[edge.b][edge.a] = std::min(table[edge.b][edge.a], um);
    }
    for (std::size_t via = 0; via < nodes; ++via) {
        for (std::size_t i = 0; i < nodes; ++i) {
            for (std::size_t j = 0; j < nodes; ++j) {
                table[i][j] = std::min(table[i][j], table[i][via] + table[via][j]);
            }
        }
    }
    return table;
}

/// All that can be reached from a pole, itself among them, by (distance, index).
std::vector<Near> in_order(const std::vector<std::int64_t>& distances) {
    std::vector<Near> all;
    for (std::uint32_t j = 0; j < distances.size(); ++j) {
        if (distances[j] < kFar) {
            all.push_back({distances[j], j});
        }
    }
    std::sort(all.begin(), all.end());
    return all;
}

void expect_same(const NeighbourSource& source, const Table& table) {
    ASSERT_EQ(source.pole_count(), table.size());
    const auto search = source.search();
    std::vector<Near> found;
    for (std::uint32_t pole = 0; pole < table.size(); ++pole) {
        const std::vector<Near> all = in_order(table[pole]);
        for (const std::size_t count : {1U, 2U, 7U, 40U, 100000U}) {
            search->nearest(pole, {count, kFar}, found);
            const std::vector<Near> expected{
                all.begin(),
                all.begin() + static_cast<std::ptrdiff_t>(std::min(count, all.size()))};
            ASSERT_EQ(found, expected) << "pole " << pole << ", nearest " << count;
        }
        for (const std::size_t rank : {std::size_t{0}, all.size() / 3, all.size() - 1}) {
            const std::int64_t um = all[rank].um;
            search->nearest(pole, {100000, um}, found);
            std::vector<Near> expected = all;
            std::erase_if(expected, [um](const Near& near) { return near.um > um; });
            ASSERT_EQ(found, expected) << "pole " << pole << ", within " << um;
        }
    }
    std::vector<std::uint32_t> layout = source.layout();
    std::sort(layout.begin(), layout.end());
    std::vector<std::uint32_t> each(table.size());
    std::iota(each.begin(), each.end(), 0U);
    EXPECT_EQ(layout, each);
}

double uniform(ReplicateRandom& random, double width) {
    return width * static_cast<double>(random.next() >> 11U) * 0x1p-53;
}

std::vector<Point> scattered(std::size_t count, std::uint64_t seed) {
    ReplicateRandom random{seed, 0};
    std::vector<Point> poles;
    for (std::size_t i = 0; i < count; ++i) {
        poles.push_back({500000.0 + uniform(random, 1000.0), 5e6 + uniform(random, 300.0)});
    }
    return poles;
}

TEST(plane_neighbours, are_those_of_every_pair) {
    for (const std::size_t count : {1U, 2U, 16U, 17U, 250U}) {
        const std::vector<Point> poles = scattered(count, count);
        SCOPED_TRACE(count);
        expect_same(PlaneNeighbours{poles}, straight(poles));
    }
}

TEST(plane_neighbours, break_ties_by_index) {
    // A lattice, with many poles at the same distance and some at the same place.
    std::vector<Point> poles;
    for (int i = 0; i < 120; ++i) {
        poles.push_back({30.0 * ((i * 7) % 10), 30.0 * ((i * 3) % 7)});
    }
    expect_same(PlaneNeighbours{poles}, straight(poles));
    // A row on a slant far from the origin: equal up to rounding is equal.
    poles.clear();
    for (int i = 0; i < 41; ++i) {
        poles.push_back({448123.4567891 + 0.1 * i, 5811234.9876543 + 0.2 * i});
    }
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{poles}, 1);
    for (std::uint32_t i = 1; i < 40; ++i) {
        EXPECT_EQ(rows.row(i)[0].pole, i - 1);
    }
}

TEST(plane_neighbours, are_right_beside_an_outlier_and_in_a_dense_town) {
    std::vector<Point> poles = scattered(100, 1);
    poles.push_back({0.0, 0.0});
    poles.push_back({-3e12, 4e12});
    for (const Point p : scattered(100, 2)) {
        poles.push_back({500200.0 + (p.x - 500000.0) * 0.001, 5000100.0 + (p.y - 5e6) * 0.001});
    }
    for (int i = 0; i < 40; ++i) {
        poles.push_back(poles[5]);
    }
    expect_same(PlaneNeighbours{poles}, straight(poles));
}

TEST(plane_neighbours, all_at_one_place) {
    const std::vector<Point> poles(50, Point{1.0, 2.0});
    expect_same(PlaneNeighbours{poles}, straight(poles));
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{poles}, 3);
    EXPECT_EQ(rows.row(49)[2].pole, 2U);
    EXPECT_EQ(rows.row(0)[0].pole, 1U);
}

TEST(span_neighbours, are_those_of_floyd_and_warshall) {
    for (std::uint64_t seed = 0; seed < 8; ++seed) {
        ReplicateRandom random{seed, 1};
        const std::uint32_t nodes = 40;
        std::vector<SpanEdge> edges;
        for (std::uint32_t i = 0; i < 25 + 8 * seed; ++i) {
            // Lengths of few kinds, 0 among them: ties and poles at one place.
            edges.push_back({random.below(nodes), random.below(nodes), 10.5 * random.below(5)});
        }
        std::vector<std::uint32_t> all(nodes);
        std::iota(all.begin(), all.end(), 0U);
        const Table table = along_spans(nodes, edges);
        expect_same(SpanNeighbours{nodes, edges, all}, table);
        // Only some are counted, in another order; the others still carry ways.
        random.shuffle(std::span<std::uint32_t>{all});
        all.resize(23);
        Table part(all.size(), std::vector<std::int64_t>(all.size()));
        for (std::size_t i = 0; i < all.size(); ++i) {
            for (std::size_t j = 0; j < all.size(); ++j) {
                part[i][j] = table[all[i]][all[j]];
            }
        }
        expect_same(SpanNeighbours{nodes, edges, all}, part);
    }
}

TEST(span_neighbours, a_pole_without_spans_is_alone) {
    const std::vector<SpanEdge> edges{{0, 1, 40.0}};
    const std::vector<std::uint32_t> all{0, 1, 2};
    const SpanNeighbours spans{3, edges, all};
    EXPECT_EQ(nearest_rows(spans, 8).row(2).size(), 0U);
    EXPECT_EQ(band_rows(spans, 1e9).row(2).size(), 0U);
    EXPECT_EQ(nearest_rows(spans, 8).row(0).size(), 1U);
}

TEST(span_neighbours, joined_poles_are_one_span_apart) {
    // 0 = 1 by two circuits, 1 - 2, 2 - 3 with 3 not counted, a span that closes on itself.
    const std::vector<SpanEdge> edges{{0, 1, 40}, {1, 0, 41}, {1, 2, 50}, {2, 3, 60}, {2, 2, 5}};
    const std::vector<std::uint32_t> counted{2, 1, 0};
    const NeighbourRows rows = SpanNeighbours{4, edges, counted}.joined();
    ASSERT_EQ(rows.size(), 3U);
    ASSERT_EQ(rows.row(0).size(), 1U);
    EXPECT_EQ(rows.row(0)[0], (Near{50'000'000, 1}));
    ASSERT_EQ(rows.row(1).size(), 2U);
    EXPECT_EQ(rows.row(1)[0], (Near{40'000'000, 2}));
    EXPECT_EQ(rows.row(1)[1], (Near{50'000'000, 0}));
    ASSERT_EQ(rows.row(2).size(), 1U);
}

TEST(neighbour_rows, leave_the_pole_itself_out) {
    const std::vector<Point> poles{{0, 0}, {3, 4}, {0, 10}, {100, 0}};
    const NeighbourRows rows = band_rows(PlaneNeighbours{poles}, 5.0);
    ASSERT_EQ(rows.row(0).size(), 1U);
    EXPECT_EQ(rows.row(0)[0], (Near{5'000'000, 1}));
    EXPECT_EQ(rows.row(2).size(), 0U);
    EXPECT_EQ(rows.begin_of(1), 1U);
    EXPECT_EQ(nearest_rows(PlaneNeighbours{poles}, 99).row(3).size(), 3U);
    EXPECT_EQ(nearest_rows(PlaneNeighbours{{}}, 4).size(), 0U);
}

TEST(neighbour_rows, of_counties_within_33_miles_are_the_published_ones) {
    const auto table = test::published("nc_sids74_band33.json");
    const NeighbourRows rows = band_rows(PlaneNeighbours{test::points(table["xy"])}, 33.0);
    for (std::size_t i = 0; i < 100; ++i) {
        std::vector<std::uint32_t> found;
        for (const Near& near : rows.row(i)) {
            found.push_back(near.pole);
        }
        std::sort(found.begin(), found.end());
        EXPECT_EQ(found, table["neighbours"][i].get<std::vector<std::uint32_t>>()) << i;
    }
}

TEST(neighbour_rows, of_the_eight_nearest_counties_are_as_far_as_the_published_ones) {
    const auto table = test::published("nc_sids74_knn8.json");
    const std::vector<Point> seats = test::points(table["xy"]);
    const Table far = straight(seats);
    const NeighbourRows rows = nearest_rows(PlaneNeighbours{seats}, 8);
    for (std::size_t i = 0; i < 100; ++i) {
        std::vector<std::int64_t> found;
        std::vector<std::int64_t> expected;
        for (const Near& near : rows.row(i)) {
            found.push_back(far[i][near.pole]);
        }
        for (const auto& near : table["neighbours"][i]) {
            expected.push_back(far[i][near.get<std::size_t>()]);
        }
        std::sort(expected.begin(), expected.end());
        EXPECT_EQ(found, expected) << i;
    }
}

}  // namespace
}  // namespace linewood
