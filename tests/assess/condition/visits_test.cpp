// "Several inspections": which defects belong to which visit.

#include "assess/condition/visits.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Visits as `date: fids of its defects`, oldest first; `-` for no date. The first fid is 1.
std::string joined(const PoleCase& c, Findings* findings = nullptr) {
    std::string text;
    for (const Visit& v : join_visits(c.visits, c.defects, c.criteria.join_days, findings)) {
        const auto date = v.inspection.inspected_on;
        text += (text.empty() ? "" : " | ") + (date ? date->to_string() : std::string{"-"}) + ":";
        for (const std::size_t i : v.defects) {
            text += ' ' + std::to_string(c.defects[i].fid);
        }
    }
    return text;
}

PoleCase visited_on(std::initializer_list<const char*> dates) {
    PoleCase c = PoleCase{}.never_inspected();
    for (const char* date : dates) {
        c.visit(date);
    }
    return c;
}

TEST(visits, defects_join_the_inspection_of_their_date) {
    EXPECT_EQ(joined(visited_on({"2024-05-01", "2014-05-01"})
                         .with(pocket().on("2014-05-01"))
                         .with(pocket().on("2024-05-01"))),
              "2014-05-01: 1 | 2024-05-01: 2");
}

TEST(visits, undated_defects_join_the_latest) {
    EXPECT_EQ(joined(visited_on({"2024-05-01", "2014-05-01"}).with(pocket())),
              "2014-05-01: | 2024-05-01: 1");
}

TEST(visits, defects_join_inspections_whose_date_cannot_be_read) {
    PoleCase c = visited_on({"2024-05-01", "2014-05-01", "2000-01-01"});
    c.day_unreadable();
    Findings findings;
    EXPECT_EQ(joined(c.with(pocket())                       // undated: all that may be the latest
                         .with(pocket().on("2014-05-01"))   // has its inspection
                         .with(pocket().on("2014-05-20"))   // near one, which need not be its own
                         .with(pocket().on("2018-01-01")),  // has no other
                     &findings),
              "2014-05-01: 2 3 | 2024-05-01: 1 | -: 3 4 1");
    EXPECT_TRUE(findings.empty());
}

TEST(visits, a_date_without_an_inspection_joins_the_nearest_within_30_days) {
    struct Row {
        const char* date;
        const char* expected;
    };
    for (const Row& r : {
             Row{"2024-05-31", "2014-05-01: | 2024-05-01: 1"},  // 30 days after
             Row{"2024-04-01", "2014-05-01: | 2024-05-01: 1"},  // 30 days before
             Row{"2014-05-31", "2014-05-01: 1 | 2024-05-01:"},
             Row{"2014-06-01", "2014-05-01: | 2024-05-01:"},  // 31 days
             Row{"2024-06-01", "2014-05-01: | 2024-05-01: | 2024-06-01: 1"},
         }) {
        EXPECT_EQ(joined(visited_on({"2014-05-01", "2024-05-01"}).with(pocket().on(r.date))),
                  r.expected)
            << r.date;
    }
}

TEST(visits, the_nearest_of_two_takes_it_and_of_two_as_near_the_later) {
    EXPECT_EQ(joined(visited_on({"2024-05-01", "2024-05-21"}).with(pocket().on("2024-05-10"))),
              "2024-05-01: 1 | 2024-05-21:");
    EXPECT_EQ(joined(visited_on({"2024-05-01", "2024-05-21"}).with(pocket().on("2024-05-11"))),
              "2024-05-01: | 2024-05-21: 1");
}

TEST(visits, newer_than_all_it_is_an_inspection_of_its_own) {
    Findings findings;
    EXPECT_EQ(joined(visited_on({"2014-05-01"})
                         .with(pocket().on("2024-05-01"))
                         .with(pocket().on("2024-05-01")),
                     &findings),
              "2014-05-01: | 2024-05-01: 1 2");
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings.front().code, finding::kVisitMade.code);
}

TEST(visits, otherwise_it_is_left_out_with_a_finding) {
    Findings findings;
    EXPECT_EQ(joined(visited_on({"2024-05-01"}).with(pocket().on("2019-05-01")), &findings),
              "2024-05-01:");
    ASSERT_EQ(findings.size(), 1U);
    EXPECT_EQ(findings.front().code, finding::kDefectUnjoined.code);
    EXPECT_EQ(findings.front().feature, "1");
    EXPECT_EQ(findings.front().value, "2019-05-01");
}

TEST(visits, an_inspection_of_its_own_is_the_latest_for_undated_ones) {
    EXPECT_EQ(joined(visited_on({"2014-05-01"}).with(pocket()).with(pocket().on("2024-05-01"))),
              "2014-05-01: | 2024-05-01: 2 1");
}

TEST(visits, undated_inspections_are_the_oldest) {
    PoleCase c = visited_on({"2014-05-01"});
    c.visit("2024-05-01").undated();
    EXPECT_EQ(joined(c.with(pocket())), "-: | 2014-05-01: 1");
}

TEST(visits, a_dated_defect_is_newer_than_an_undated_inspection) {
    PoleCase c = PoleCase{}.undated();
    EXPECT_EQ(joined(c.with(pocket().on("2014-05-01"))), "-: | 2014-05-01: 1");
}

TEST(visits, of_one_day_each_inspection_has_the_days_defects) {
    EXPECT_EQ(joined(visited_on({"2024-05-01", "2024-05-01"})
                         .with(pocket().on("2024-05-01"))
                         .with(pocket())),
              "2024-05-01: 1 2 | 2024-05-01: 1 2");
}

TEST(visits, defects_without_any_inspection_make_one) {
    Findings findings;
    EXPECT_EQ(joined(visited_on({}).with(pocket()).with(pocket()), &findings), "-: 1 2");
    EXPECT_EQ(findings.size(), 1U);
    EXPECT_EQ(joined(visited_on({}).with(pocket().on("2020-01-01"))), "2020-01-01: 1");
}

TEST(visits, no_inspection_and_no_defect_is_no_visit) { EXPECT_EQ(joined(visited_on({})), ""); }

TEST(visits, the_order_of_the_layer_does_not_matter) {
    const char* dates[] = {"2020-03-01", "2020-02-01", "2020-03-20"};
    EXPECT_EQ(joined(visited_on({"2014-05-01"})
                         .with(pocket().on(dates[0]))
                         .with(pocket().on(dates[1]))
                         .with(pocket().on(dates[2]))),
              "2014-05-01: | 2020-02-01: 2 1 | 2020-03-20: 3");
}

TEST(visits, the_days_to_join_are_a_setting) {
    PoleCase c = visited_on({"2024-05-01"});
    c.criteria.join_days = 5;
    EXPECT_EQ(joined(PoleCase{c}.with(pocket().on("2024-05-06"))), "2024-05-01: 1");
    EXPECT_EQ(joined(PoleCase{c}.with(pocket().on("2024-05-07"))), "2024-05-01: | 2024-05-07: 1");
}

}  // namespace
}  // namespace linewood::test
