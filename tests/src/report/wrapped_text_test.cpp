#include "src/report/wrapped_text.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(WrappedText, BreaksBetweenWordsAndIndentsWhatFollows) {
    EXPECT_EQ(wrapped("  a: ", "one two three four", 5, 12),
              "  a: one two\n     three\n     four\n");
    EXPECT_EQ(wrapped("", "one two", 0, 7), "one two\n");
    EXPECT_EQ(wrapped("", "one two", 0, 6), "one\ntwo\n");
}

TEST(WrappedText, KeepsALongWordWholeAndBlanksSingle) {
    EXPECT_EQ(wrapped("", "a  incomprehensible b", 2, 8), "a\n  incomprehensible\n  b\n");
    EXPECT_EQ(wrapped("head", "", 2, 8), "head\n");
    EXPECT_EQ(wrapped("", " a ", 2, 8), "a\n");
}

}  // namespace
}  // namespace linewood
