#include <gtest/gtest.h>

#include "geo/io/composed_layer.hpp"

namespace linewood {
namespace {

TEST(ComposedName, LeavesTheMarkAndItsJointAway) {
    EXPECT_EQ(composed_name("pocket_{n}_width"), "pocket_width");
    EXPECT_EQ(composed_name("width{n}"), "width");
    EXPECT_EQ(composed_name("width_{n}"), "width");
    EXPECT_EQ(composed_name("{n}_width"), "width");
    EXPECT_EQ(composed_name("p{n}w"), "pw");
    EXPECT_EQ(composed_name("{n}"), "source_group");
    EXPECT_EQ(composed_name("POLE NO"), "POLE NO");
}

TEST(ComposedName, PutsTheGroupInPlaceOfEveryMark) {
    EXPECT_EQ(group_column("pocket_{n}_width", "12"), "pocket_12_width");
    EXPECT_EQ(group_column("{n}/{n}", "N"), "N/N");
    EXPECT_EQ(group_column("{n}", "{n}"), "{n}");
    EXPECT_EQ(group_column("width", "1"), "width");
}

}  // namespace
}  // namespace linewood
