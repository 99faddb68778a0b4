#include "src/pipeline/pole_index.hpp"

#include <string>

#include <gtest/gtest.h>

#include "src/pipeline/visit_store.hpp"

namespace linewood {
namespace {

TEST(PoleIndex, FindsTheFirstOfAnId) {
    PoleIndex index;
    EXPECT_EQ(index.find("A"), PoleIndex::kNotFound);
    EXPECT_EQ(index.add("A"), PoleIndex::kNotFound);
    EXPECT_EQ(index.add("B"), PoleIndex::kNotFound);
    EXPECT_EQ(index.add("A"), 0U);
    EXPECT_EQ(index.add("C"), PoleIndex::kNotFound);
    EXPECT_EQ(index.find("A"), 0U);
    EXPECT_EQ(index.find("C"), 3U);
    EXPECT_EQ(index.id(2), "A");
    EXPECT_EQ(index.size(), 4U);
}

TEST(PoleIndex, AnEmptyIdIsKeptAndNeverFound) {
    PoleIndex index;
    EXPECT_EQ(index.add(""), PoleIndex::kNotFound);
    EXPECT_EQ(index.add(""), PoleIndex::kNotFound);
    EXPECT_EQ(index.find(""), PoleIndex::kNotFound);
    EXPECT_EQ(index.id(1), "");
    EXPECT_EQ(index.size(), 2U);
}

TEST(PoleIndex, GrowsAndTellsLikeIdsApart) {
    PoleIndex index;
    for (int i = 0; i < 20000; ++i) {
        ASSERT_EQ(index.add(std::to_string(i)), PoleIndex::kNotFound);
    }
    for (int i = 0; i < 20000; ++i) {
        ASSERT_EQ(index.find(std::to_string(i)), static_cast<std::uint32_t>(i));
    }
    for (const char* const other : {"20000", "01", "1 ", "-1", "1.0"}) {
        EXPECT_EQ(index.find(other), PoleIndex::kNotFound) << other;
    }
    EXPECT_EQ(index.find(std::string("1\0", 2)), PoleIndex::kNotFound);
}

TEST(PoleIndex, IdsStayWhenTheLookUpIsGone) {
    PoleIndex index;
    index.add("A");
    index.drop_lookup();
    EXPECT_EQ(index.id(0), "A");
    EXPECT_EQ(index.find("A"), PoleIndex::kNotFound);
}

TEST(ByPole, RecordsOfAPoleStandTogetherInTheirOrder) {
    ByPole<int> store;
    store.add(2, 10);
    store.add(0, 11);
    store.add(PoleIndex::kNotFound, 12);
    store.add(2, 13);
    store.add(0, 14);
    store.finish(3);
    const auto at = [&](std::size_t pole) {
        const auto records = store.of(pole);
        return std::vector<int>(records.begin(), records.end());
    };
    EXPECT_EQ(at(0), (std::vector<int>{11, 14}));
    EXPECT_EQ(at(1), std::vector<int>{});
    EXPECT_EQ(at(2), (std::vector<int>{10, 13}));
    EXPECT_EQ(store.rows(), 5U);
    EXPECT_EQ(store.sorted_size(), 4U);
    EXPECT_EQ(store.slot(2), ByPole<int>::kNowhere);
    EXPECT_EQ(store.at(store.slot(3)), 13);
    EXPECT_EQ(store.first_slot(2), 2U);
    EXPECT_EQ(store.pole(4), 0U);
}

TEST(ByPole, WithoutPolesAndWithoutRecords) {
    ByPole<int> store;
    store.finish(0);
    EXPECT_EQ(store.rows(), 0U);
    ByPole<int> lost;
    lost.add(PoleIndex::kNotFound, 1);
    lost.finish(2);
    EXPECT_TRUE(lost.of(1).empty());
    EXPECT_EQ(lost.slot(0), ByPole<int>::kNowhere);
}

}  // namespace
}  // namespace linewood
