#include "src/command/size_list.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "src/job/job_error.hpp"

namespace linewood {
namespace {

using ::testing::DoubleNear;
using ::testing::ElementsAre;
using ::testing::Pointwise;

std::vector<double> inches(std::string_view text) {
    std::vector<double> all;
    for (const Length l : typed_lengths("--girths", text, UnitSystem::us, 0.1, 200.0)) {
        all.push_back(l.inches());
    }
    return all;
}

TEST(SizeList, TakesListsAndRangesInRisingOrderEachOnce) {
    EXPECT_THAT(inches("36"), Pointwise(DoubleNear(1e-9), {36.0}));
    EXPECT_THAT(inches("36,30,36"), Pointwise(DoubleNear(1e-9), {30.0, 36.0}));
    EXPECT_THAT(inches("30:36:2"), Pointwise(DoubleNear(1e-9), {30.0, 32.0, 34.0, 36.0}));
    EXPECT_THAT(inches("30:36:4,33"), Pointwise(DoubleNear(1e-9), {30.0, 33.0, 34.0}));
    EXPECT_THAT(inches("1ft,508mm"), Pointwise(DoubleNear(1e-9), {12.0, 20.0}));
}

TEST(SizeList, AnEndThatRoundingMissesIsReached) {
    EXPECT_EQ(inches("0.1:0.7:0.1").size(), 7U);
    EXPECT_EQ(inches("0.3:0.9:0.1").back(), 0.9);
}

TEST(SizeList, AnglesAreDegreesFromInLineToSquare) {
    std::vector<double> degrees;
    for (const Angle a : typed_angles("--angles", "0:90:45,22.5")) {
        degrees.push_back(a.degrees());
    }
    EXPECT_THAT(degrees, ElementsAre(0.0, 22.5, 45.0, 90.0));
}

TEST(SizeList, RefusesWhatIsNoList) {
    for (const char* const text :
         {"", ",", "36,", ":", "1:2", "1:2:3:4", "2:1:1", "1:2:0", "x", "0", "201", "1:200:0.1"}) {
        EXPECT_THROW(inches(text), JobError) << text;
    }
    for (const char* const text : {"", "91", "-1", "nan", "5x"}) {
        EXPECT_THROW(typed_angles("--angles", text), JobError) << text;
    }
}

}  // namespace
}  // namespace linewood
