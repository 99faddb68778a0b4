#include "assess/units/date.hpp"

#include <gtest/gtest.h>

namespace linewood {
namespace {

TEST(DateTest, ReadsDaysAndTheDayOfATimestampAsWritten) {
    const struct {
        const char* text;
        const char* day;
    } cases[] = {
        {"2024-02-29", "2024-02-29"},
        {"2024/02/29", "2024-02-29"},
        {"2024-07-01T23:59:59Z", "2024-07-01"},
        {"2024-07-01T23:30:00-05:00", "2024-07-01"},
        {"2024-07-01T00:30:00+14:00", "2024-07-01"},
        {"2024/07/01 12:00:00+00", "2024-07-01"},
        {"0001-01-01", "0001-01-01"},
        {"9999-12-31", "9999-12-31"},
        {"1969-12-31", "1969-12-31"},
    };
    for (const auto& c : cases) {
        const auto date = Date::parse(c.text);
        ASSERT_TRUE(date) << c.text;
        EXPECT_EQ(date->to_string(), c.day) << c.text;
    }
}

TEST(DateTest, RefusesWhatIsNoDay) {
    for (const char* text :
         {"",           "2024",       "2024-02",     "2023-02-29",  "2024-13-01", "2024-00-10",
          "2024-01-00", "2024-01-32", "2024-04-31",  "01/02/2024",  "2024-1-2",   "2024/01-02",
          "2024-01/02", "20240102",   "2024-01-02x", "0000-01-01",  "-024-01-01", "2024--1-01",
          "2024-01--1", "+024-01-01", "2024-0x-01",  " 2024-01-02", "abcd-ef-gh"}) {
        EXPECT_FALSE(Date::parse(text)) << '"' << text << '"';
    }
}

TEST(DateTest, CountsDaysFrom1970) {
    EXPECT_EQ(Date::from_ymd(1970, 1, 1)->days(), 0);
    EXPECT_EQ(Date::from_ymd(1970, 1, 2)->days(), 1);
    EXPECT_EQ(Date::from_ymd(1969, 12, 31)->days(), -1);
    EXPECT_EQ(Date::from_ymd(2000, 3, 1)->days(), 11017);
    EXPECT_EQ(Date::from_ymd(2000, 3, 1)->days() - Date::from_ymd(2000, 2, 28)->days(), 2);
    EXPECT_EQ(Date::from_ymd(1900, 3, 1)->days() - Date::from_ymd(1900, 2, 28)->days(), 1);
}

TEST(DateTest, PartsComeBack) {
    const Date::Ymd d = Date::from_ymd(2031, 11, 5)->ymd();
    EXPECT_EQ(d.year, 2031);
    EXPECT_EQ(d.month, 11);
    EXPECT_EQ(d.day, 5);
}

TEST(DateTest, RefusesPartsOutOfRange) {
    EXPECT_FALSE(Date::from_ymd(0, 1, 1));
    EXPECT_FALSE(Date::from_ymd(10000, 1, 1));
    EXPECT_FALSE(Date::from_ymd(2024, -1, 1));
    EXPECT_FALSE(Date::from_ymd(2024, 1, -1));
    EXPECT_FALSE(Date::from_ymd(2024, 13, 1));
    EXPECT_FALSE(Date::from_ymd(2024, 1, 32));
}

TEST(DateTest, OrdersByDay) {
    EXPECT_LT(*Date::from_ymd(2023, 12, 31), *Date::from_ymd(2024, 1, 1));
    EXPECT_EQ(Date{}, *Date::from_ymd(1970, 1, 1));
}

}  // namespace
}  // namespace linewood
