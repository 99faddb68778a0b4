#include "src/serve/byte_range.hpp"

#include <random>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace linewood {
namespace {

using ::testing::ElementsAre;
using Kind = AskedRanges::Kind;

TEST(ByteRange, SingleOpenAndSuffix) {
    EXPECT_THAT(read_ranges("bytes=0-0", 10).ranges, ElementsAre(ByteRange{0, 1}));
    EXPECT_THAT(read_ranges("bytes=2-5", 10).ranges, ElementsAre(ByteRange{2, 4}));
    EXPECT_THAT(read_ranges("Bytes=2-", 10).ranges, ElementsAre(ByteRange{2, 8}));
    EXPECT_THAT(read_ranges("bytes=-3", 10).ranges, ElementsAre(ByteRange{7, 3}));
    EXPECT_THAT(read_ranges("bytes=-30", 10).ranges, ElementsAre(ByteRange{0, 10}));
    EXPECT_THAT(read_ranges("bytes=5-99999999999999999999999", 10).ranges,
                ElementsAre(ByteRange{5, 5}));
}

TEST(ByteRange, SeveralInTheOrderAskedFor) {
    EXPECT_THAT(read_ranges("bytes=7-8, 0-1 ,\t-1", 10).ranges,
                ElementsAre(ByteRange{7, 2}, ByteRange{0, 2}, ByteRange{9, 1}));
    EXPECT_THAT(read_ranges("bytes=0-1,20-30", 10).ranges, ElementsAre(ByteRange{0, 2}));
}

TEST(ByteRange, NoneOfTheFilesBytes) {
    for (const char* const header : {"bytes=10-",
                                     "bytes=10-20",
                                     "bytes=-0",
                                     "bytes=99999999999999999999999-",
                                     "bytes=20-30,40-"}) {
        EXPECT_EQ(read_ranges(header, 10).kind, Kind::unsatisfiable) << header;
    }
    EXPECT_EQ(read_ranges("bytes=0-", 0).kind, Kind::unsatisfiable);
    EXPECT_EQ(read_ranges("bytes=-5", 0).kind, Kind::unsatisfiable);
}

TEST(ByteRange, WhatIsNotUnderstoodOrTooMuchIsTheWholeFile) {
    for (const char* const header : {"",
                                     "bytes",
                                     "bytes=",
                                     "lines=0-1",
                                     "bytes=a-b",
                                     "bytes=-",
                                     "bytes=5-2",
                                     "bytes=1--2",
                                     "bytes=+1-2",
                                     "bytes=0-1,,3-4",
                                     "bytes=0-1,",
                                     "bytes=0x1-2",
                                     "bytes=0-5,3-7",
                                     "bytes=0-,0-",
                                     "bytes=0-0,1-1,2-2,3-3,4-4,5-5,6-6,7-7,8-8"}) {
        const AskedRanges asked = read_ranges(header, 10);
        EXPECT_EQ(asked.kind, Kind::whole) << header;
    }
}

TEST(ByteRange, WhateverComesStaysInTheFileAndIsNoMoreThanIt) {
    std::mt19937 random{5};
    const std::string letters = "0123456789-,= b";
    for (int i = 0; i < 50000; ++i) {
        std::string header = "bytes=";
        for (auto n = random() % 20; n > 0; --n) {
            header.push_back(letters[random() % letters.size()]);
        }
        const std::uint64_t bytes = random() % 1000;
        std::uint64_t total = 0;
        for (const ByteRange& range : read_ranges(header, bytes).ranges) {
            ASSERT_GT(range.length, 0U) << header;
            ASSERT_LE(range.begin + range.length, bytes) << header;
            total += range.length;
        }
        ASSERT_TRUE(total <= bytes || read_ranges(header, bytes).kind == Kind::whole) << header;
    }
}

}  // namespace
}  // namespace linewood
