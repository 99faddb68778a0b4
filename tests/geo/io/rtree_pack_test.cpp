#include "geo/io/rtree_pack.hpp"

#include <cmath>
#include <limits>
#include <map>
#include <random>

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(IndexedBox, NeverLiesInsideTheBoxItStandsFor) {
    std::mt19937 random{3};
    std::uniform_real_distribution<double> spread{-1e7, 1e7};
    for (int i = 0; i < 1000; ++i) {
        const double x = spread(random);
        const double y = spread(random);
        const IndexedBox box = indexed_box(1, x, x, y, y);
        EXPECT_LE(static_cast<double>(box.min_x), x);
        EXPECT_GE(static_cast<double>(box.max_x), x);
        EXPECT_LE(static_cast<double>(box.min_y), y);
        EXPECT_GE(static_cast<double>(box.max_y), y);
        EXPECT_LE(static_cast<double>(box.max_x) - static_cast<double>(box.min_x),
                  std::abs(x) * 1.3e-7);
    }
    const IndexedBox exact = indexed_box(1, 0.5, 2.0, -0.25, 0.0);
    EXPECT_EQ(exact.min_x, 0.5F);
    EXPECT_EQ(exact.max_x, 2.0F);
    EXPECT_EQ(exact.min_y, -0.25F);
    EXPECT_EQ(exact.max_y, 0.0F);
}

/// Nodes, parents and rows as they come.
struct Packed {
    std::map<std::int64_t, std::string> nodes;
    std::map<std::int64_t, std::int64_t> parents;
    std::vector<std::pair<std::int64_t, std::int64_t>> rows;

    explicit Packed(std::size_t count) {
        std::mt19937 random{5};
        std::uniform_real_distribution<double> spread{0.0, 1.0};
        std::vector<IndexedBox> boxes;
        for (std::size_t i = 0; i < count; ++i) {
            const double x = spread(random);
            const double y = spread(random);
            boxes.push_back(indexed_box(static_cast<std::int64_t>(i * 7 % 100003), x, x, y, y));
        }
        RtreeSink sink;
        sink.node = [this](std::int64_t n, const std::string& blob) { nodes[n] = blob; };
        sink.parent = [this](std::int64_t n, std::int64_t p) { parents[n] = p; };
        sink.rowid = [this](std::int64_t id, std::int64_t n) { rows.emplace_back(id, n); };
        pack_rtree(boxes, 1228, sink);
    }
    static std::size_t cells(const std::string& blob) {
        return static_cast<unsigned char>(blob[2]) * 256U + static_cast<unsigned char>(blob[3]);
    }
};

TEST(PackRtree, GivesOneRowABoxInOrderOfTheirIds) {
    const Packed packed{10000};
    ASSERT_EQ(packed.rows.size(), 10000U);
    for (std::size_t i = 1; i < packed.rows.size(); ++i) {
        EXPECT_LT(packed.rows[i - 1].first, packed.rows[i].first);
    }
}

TEST(PackRtree, FillsNodesEvenlyAndNamesAllParents) {
    const Packed packed{10000};
    std::size_t leaf_cells = 0;
    for (const auto& [node, blob] : packed.nodes) {
        EXPECT_EQ(blob.size(), 1228U);
        EXPECT_LE(Packed::cells(blob), 51U);
        EXPECT_GE(Packed::cells(blob), 2U);
        if (node != 1) {
            EXPECT_TRUE(packed.parents.contains(node));
        }
    }
    for (const auto& [id, node] : packed.rows) {
        leaf_cells += packed.nodes.contains(node) ? 1U : 0U;
    }
    EXPECT_EQ(leaf_cells, 10000U);
    EXPECT_EQ(packed.nodes.size(), packed.parents.size() + 1);
    EXPECT_EQ(packed.nodes.at(1)[1], 2);  // 197 leaves need two levels above them
}

TEST(PackRtree, MakesAnEmptyRootOfNothing) {
    const Packed packed{0};
    ASSERT_EQ(packed.nodes.size(), 1U);
    EXPECT_EQ(Packed::cells(packed.nodes.at(1)), 0U);
}

}  // namespace
}  // namespace linewood
