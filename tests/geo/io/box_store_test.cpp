#include "geo/io/box_store.h"

#include <vector>

#include <gtest/gtest.h>

namespace linewood {
namespace {

void expect_kept(const std::vector<IndexedBox>& boxes) {
    BoxStore store;
    store.reserve(boxes.size());
    for (const IndexedBox& box : boxes) {
        store.add(box);
    }
    const std::vector<IndexedBox> taken = store.take();
    ASSERT_EQ(taken.size(), boxes.size());
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        EXPECT_EQ(taken[i].id, boxes[i].id) << i;
        EXPECT_EQ(taken[i].min_x, boxes[i].min_x) << i;
        EXPECT_EQ(taken[i].max_x, boxes[i].max_x) << i;
        EXPECT_EQ(taken[i].min_y, boxes[i].min_y) << i;
        EXPECT_EQ(taken[i].max_y, boxes[i].max_y) << i;
    }
    EXPECT_TRUE(store.take().empty());
}

IndexedBox point(std::int64_t id, double x, double y) { return indexed_box(id, x, x, y, y); }

TEST(BoxStore, KeepsPointsThatAreFloatsAndThoseThatAreNot) {
    expect_kept({});
    expect_kept({point(1, 2.0, 3.0), point(2, 0.1, 3.0), point(3, 2.0, -0.1), point(4, 0.1, 0.3)});
    expect_kept({point(7, 0.0, -0.0), point(8, 1e-310, -1e-310), point(9, 672685.52, 4629885.88)});
}

TEST(BoxStore, KeepsBoxesBehindPoints) {
    const IndexedBox line = indexed_box(3, 0.1, 5.2, -4.0, 8.7);
    expect_kept({point(1, 0.1, 0.2), point(2, 3.0, 4.0), line, point(4, 0.3, 7.0)});
    expect_kept({indexed_box(1, 0.1, 5.2, -4.0, 8.7), point(2, 0.1, 0.2)});
}

TEST(BoxStore, KeepsIdsThatDoNotRunOn) {
    expect_kept({point(5, 0.1, 1), point(6, 0.2, 2), point(9, 0.3, 3), point(10, 0.4, 4)});
    expect_kept({point(5, 0.1, 1), point(3, 0.2, 2), point(4, 0.3, 3)});
    expect_kept({point(-2, 0.1, 1), point(-1, 0.2, 2), point(0, 0.3, 3)});
}

}  // namespace
}  // namespace linewood
