#include "src/corridor/short_labels.hpp"

#include <set>

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(ShortLabels, KeepWhatFits) {
    const ShortLabels labels{{"P1", "1234567890123", ""}, 13};
    EXPECT_EQ(labels.of("P1"), "P1");
    EXPECT_EQ(labels.of("1234567890123"), "1234567890123");
    EXPECT_EQ(labels.of(""), "");
}

TEST(ShortLabels, KeepTheEndThatTellsIdsApart) {
    const ShortLabels labels{{"NORTH-DISTRICT-000124", "NORTH-DISTRICT-000125"}, 13};
    EXPECT_EQ(labels.of("NORTH-DISTRICT-000124"), "\u2026TRICT-000124");
    EXPECT_EQ(labels.of("NORTH-DISTRICT-000125"), "\u2026TRICT-000125");
}

TEST(ShortLabels, KeepABeginningWhereTheEndsAreTheSame) {
    const ShortLabels labels{{"A-NORTH-DISTRICT-000124", "B-NORTH-DISTRICT-000124"}, 13};
    EXPECT_EQ(labels.of("A-NORTH-DISTRICT-000124"), "A\u2026RICT-000124");
    EXPECT_EQ(labels.of("B-NORTH-DISTRICT-000124"), "B\u2026RICT-000124");
}

TEST(ShortLabels, CutCharactersAndNotBytes) {
    const ShortLabels labels{{"ααααααααααααααω"}, 5};
    EXPECT_EQ(labels.of("ααααααααααααααω"), "\u2026αααω");
}

TEST(ShortLabels, DifferInTheMiddleOnlyAndStillHaveOne) {
    const std::string a = "XXXXXXXXXX1YYYYYYYYYY";
    const std::string b = "XXXXXXXXXX2YYYYYYYYYY";
    const ShortLabels labels{{a, b, a}, 5};
    EXPECT_EQ(labels.of(a), "\u2026YYYY");
    EXPECT_EQ(labels.of(b), "\u2026YYYY");
}

TEST(ShortLabels, TellWhatTheEllipsisStandsFor) {
    EXPECT_EQ(left_out_of("NORTH-DISTRICT-000124", "\u2026TRICT-000124"), "NORTH-DIS");
    EXPECT_EQ(left_out_of("A-NORTH-DISTRICT-000124", "A\u2026RICT-000124"), "-NORTH-DIST");
    EXPECT_EQ(left_out_of("P1", "P1"), std::nullopt);
    EXPECT_EQ(left_out_of("x\u2026y-NORTH-DISTRICT-0124", "x\u2026y\u2026DISTRICT-0124"),
              std::nullopt);
}

TEST(ShortLabels, OfAThousandIdsAreAllDifferent) {
    std::vector<std::string> ids;
    for (int i = 0; i < 1000; ++i) {
        ids.push_back("FEEDER-" + std::to_string(i) + "-OF-THE-HILLS");
    }
    const ShortLabels labels{{ids.begin(), ids.end()}, 13};
    std::set<std::string> seen;
    for (const std::string& id : ids) {
        seen.insert(labels.of(id));
    }
    EXPECT_EQ(seen.size(), 1000U);
}

}  // namespace
}  // namespace linewood
