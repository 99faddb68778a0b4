#include "src/job/nearest_word.hpp"

#include <array>
#include <string>

#include <gtest/gtest.h>

namespace linewood {
namespace {

constexpr std::array<std::string_view, 5> kWords{"length", "girth", "setting_depth", "us", "si"};

TEST(NearestWordTest, FindsTheWordMeant) {
    EXPECT_EQ(nearest_word("lenght", kWords), "length");
    EXPECT_EQ(nearest_word("Girth", kWords), "girth");
    EXPECT_EQ(nearest_word("settingdepth", kWords), "setting_depth");
    EXPECT_EQ(nearest_word("US", kWords), "us");
    EXPECT_EQ(nearest_word("grith", kWords), "girth");
}

TEST(NearestWordTest, SaysNothingWhereNothingIsNear) {
    EXPECT_FALSE(nearest_word("colour", kWords));
    EXPECT_FALSE(nearest_word("", kWords));
    EXPECT_FALSE(nearest_word(std::string(10000, 'x'), kWords));
    EXPECT_FALSE(nearest_word("length", {}));
}

TEST(NearestWordTest, OfEqualsTheFirst) {
    constexpr std::array<std::string_view, 2> kTwo{"abcd", "abce"};
    EXPECT_EQ(nearest_word("abcf", kTwo), "abcd");
}

TEST(DidYouMeanTest, IsAdviceOrEmpty) {
    EXPECT_EQ(did_you_mean("lenght", kWords), " (did you mean \"length\"?)");
    EXPECT_EQ(did_you_mean("colour", kWords), "");
}

}  // namespace
}  // namespace linewood
