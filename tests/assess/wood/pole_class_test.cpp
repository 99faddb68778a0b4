#include "assess/wood/pole_class.hpp"

#include <string>

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(PoleClassTest, ReadsWhatPeopleWrite) {
    const struct {
        const char* text;
        const char* name;
    } cases[] = {
        {"4", "4"},         {" 4 ", "4"},  {"4.0", "4"},   {"4.000", "4"},   {"10", "10"},
        {"10.0", "10"},     {"9", "9"},    {"1", "1"},     {"H1", "H1"},     {"h1", "H1"},
        {"h-1", "H1"},      {"H 1", "H1"}, {"H_6", "H6"},  {"\tH3\n", "H3"}, {"class 4", "4"},
        {"Class H2", "H2"}, {"CL 5", "5"}, {"cl. 5", "5"}, {"class4", "4"},
    };
    for (const auto& c : cases) {
        const auto read = parse_pole_class(c.text);
        ASSERT_TRUE(read) << '"' << c.text << '"';
        EXPECT_EQ(name_of(*read), c.name) << '"' << c.text << '"';
    }
}

TEST(PoleClassTest, RefusesWhatIsNoClass) {
    for (const char* text :
         {"",   " ",  "8",  "8.0",  "0",    "11",    "H0",  "H7",   "H",   "-4",  "4.5", "4.", "+4",
          "04", "4a", "1H", "40/4", "four", "class", "cl.", "h--7", "H10", "nan", "4,0", "4 5"}) {
        EXPECT_FALSE(parse_pole_class(text)) << '"' << text << '"';
    }
}

TEST(PoleClassTest, EveryNameReadsBackAsItself) {
    for (int i = 0; i < kPoleClassCount; ++i) {
        const auto c = static_cast<PoleClass>(i);
        EXPECT_EQ(parse_pole_class(name_of(c)), c);
    }
}

TEST(PoleClassTest, RowsStandAtTheirClass) {
    for (int i = 0; i < kPoleClassCount; ++i) {
        const auto c = static_cast<PoleClass>(i);
        EXPECT_EQ(class_row(c).pole_class, c);
    }
}

// Source: secondary summaries of the American class system: H5 10000 lb, 37 in; H1 5400, 29;
// 1 4500, 27; 5 1900, 19; 6 1500, 17; 10 370, 12. Read.
TEST(PoleClassTest, TopGirthAndLoadAsPublished) {
    const struct {
        PoleClass c;
        double load_lb, top_in;
    } rows[] = {
        {PoleClass::h5, 10000, 37},
        {PoleClass::h1, 5400, 29},
        {PoleClass::c1, 4500, 27},
        {PoleClass::c5, 1900, 19},
        {PoleClass::c6, 1500, 17},
        {PoleClass::c10, 370, 12},
    };
    for (const auto& r : rows) {
        EXPECT_DOUBLE_EQ(class_row(r.c).load_n, r.load_lb * 4.4482216152605);
        EXPECT_DOUBLE_EQ(class_row(r.c).top_girth.inches(), r.top_in);
    }
}

TEST(PoleClassTest, AStouterClassNeverHasLess) {
    for (int i = 1; i < kPoleClassCount; ++i) {
        const ClassRow& stouter = class_row(static_cast<PoleClass>(i - 1));
        const ClassRow& slimmer = class_row(static_cast<PoleClass>(i));
        EXPECT_GT(stouter.load_n, slimmer.load_n);
        EXPECT_GE(stouter.top_girth, slimmer.top_girth);
    }
}

}  // namespace
}  // namespace linewood
