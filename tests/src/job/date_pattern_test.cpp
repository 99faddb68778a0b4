#include "src/job/date_pattern.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

struct Written {
    const char* pattern;
    const char* text;
    const char* day;  ///< empty: none
};

TEST(DatePattern, ReadsDaysAsTheyAreWritten) {
    for (const Written& w : {Written{"DD.MM.YYYY", "01.05.2024", "2024-05-01"},
                             {"DD.MM.YYYY", "1.5.2024", ""},
                             {"D.M.YYYY", "1.5.2024", "2024-05-01"},
                             {"D.M.YYYY", "31.12.2024", "2024-12-31"},
                             {"MM/DD/YYYY", "05/01/2024", "2024-05-01"},
                             {"M/D/YYYY*", "5/1/2024 10:15", "2024-05-01"},
                             {"M/D/YYYY", "5/1/2024 10:15", ""},
                             {"YYYYMMDD", "20240501", "2024-05-01"},
                             {"YYYYMMDD", "2024051", ""},
                             {"DD-MON-YYYY", "01-may-2024", "2024-05-01"},
                             {"DD-MON-YYYY", "01-MAI-2024", ""},
                             {"D MON YYYY", "1 Dec 1999", "1999-12-01"},
                             {"DD.MM.YYYY", "30.02.2024", ""},
                             {"DD.MM.YYYY", "", ""},
                             {"DD.MM.YYYY", "01/05/2024", ""},
                             {"DD.MM.YYYY", "aa.bb.cccc", ""}}) {
        const auto day = date_by_pattern(w.text, w.pattern);
        EXPECT_EQ(day ? day->to_string() : "", w.day) << w.pattern << " " << w.text;
    }
}

TEST(DatePattern, SaysWhatIsWrongWithAPattern) {
    for (const char* const good : {"DD.MM.YYYY", "YYYY-MM-DD*", "D MON YYYY", "YYYYMD"}) {
        EXPECT_FALSE(date_pattern_fault(good)) << good;
    }
    for (const char* const bad :
         {"", "DD.MM", "DD.MM.YY", "MM/YYYY", "DD.MM.YYYY.DD", "*DD.MM.YYYY", "dd.mm.yyyy"}) {
        EXPECT_TRUE(date_pattern_fault(bad)) << bad;
    }
}

}  // namespace
}  // namespace linewood
