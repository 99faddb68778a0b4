// "Sections: one at the groundline for every inspected pole, with all defects within 0.5 ft of it ..."

#include "assess/condition/section_groups.hpp"

#include <algorithm>
#include <numeric>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/pole_builder.hpp"

namespace linewood::test {
namespace {

/// Heights in feet of the groups that defects at these heights in feet make.
std::vector<double> group_heights(const std::vector<double>& heights) {
    PoleCase c;
    for (const double h : heights) {
        c.with(pocket(1, 1).at(h));
    }
    std::vector<std::size_t> all(c.defects.size());
    std::iota(all.begin(), all.end(), 0U);
    std::vector<double> result;
    for (const SectionGroup& g : group_by_height(c.defects, all, Length::feet(0.5))) {
        result.push_back(g.height.feet());
    }
    return result;
}

using Heights = std::vector<double>;

TEST(section_groups, there_is_always_one_at_the_groundline) {
    EXPECT_EQ(group_heights({}), (Heights{0}));
    EXPECT_EQ(group_heights({10}), (Heights{0, 10}));
    EXPECT_EQ(group_heights({-3}), (Heights{-3, 0}));
}

TEST(section_groups, the_groundline_takes_what_is_within_half_a_foot_inclusive) {
    EXPECT_EQ(group_heights({0, 0.3, 0.5, -0.5}), (Heights{0}));
    EXPECT_EQ(group_heights({0.5001}), (Heights{0, 0.5001}));
    EXPECT_EQ(group_heights({-0.5001}), (Heights{-0.5001, 0}));
}

TEST(section_groups, six_inches_or_152_point_4_millimetres_are_half_a_foot) {
    for (const Length h : {Length::inches(6), Length::millimetres(152.4), Length::metres(0.1524)}) {
        Defect d = pocket(1, 1).defect();
        d.height = h;
        const std::size_t first = 0;
        EXPECT_EQ(group_by_height({&d, 1}, {&first, 1}, Length::feet(0.5)).size(), 1U);
    }
}

TEST(section_groups, a_new_one_starts_more_than_half_a_foot_above_the_first_of_its_group) {
    EXPECT_EQ(group_heights({5, 5.5}), (Heights{0, 5}));
    EXPECT_EQ(group_heights({5, 5.50001}), (Heights{0, 5, 5.50001}));
    EXPECT_EQ(group_heights({5, 5.4, 5.8, 6.2}), (Heights{0, 5, 5.8})) << "no chaining";
}

TEST(section_groups, its_height_is_that_of_its_lowest_defect_in_any_order) {
    EXPECT_EQ(group_heights({5.4, 5.0, 5.2}), (Heights{0, 5}));
    EXPECT_EQ(group_heights({6.2, 5.8, 5.4, 5}), (Heights{0, 5, 5.8}));
}

TEST(section_groups, those_below_the_groundline_are_grouped_from_the_lowest) {
    EXPECT_EQ(group_heights({-1, -1.4, -2}), (Heights{-2, -1.4, 0}));
    EXPECT_EQ(group_heights({-0.6, 0.6}), (Heights{-0.6, 0, 0.6}));
}

TEST(section_groups, a_defect_without_a_height_is_at_the_groundline) {
    const Defect d = pocket(1, 1).defect();
    const std::size_t first = 0;
    const auto groups = group_by_height({&d, 1}, {&first, 1}, Length::feet(0.5));
    ASSERT_EQ(groups.size(), 1U);
    EXPECT_EQ(groups.front().defects.size(), 1U);
}

TEST(section_groups, every_chosen_defect_is_in_exactly_one) {
    PoleCase c;
    for (const double h : {3.0, -2.0, 0.2, 3.3, 9.0, 3.6, -0.4, 40.0}) {
        c.with(pocket(1, 1).at(h));
    }
    const std::vector<std::size_t> chosen{0, 2, 3, 5, 6, 7};
    std::vector<std::size_t> seen;
    for (const SectionGroup& g : group_by_height(c.defects, chosen, Length::feet(0.5))) {
        seen.insert(seen.end(), g.defects.begin(), g.defects.end());
    }
    std::sort(seen.begin(), seen.end());
    EXPECT_EQ(seen, chosen);
}

TEST(section_groups, an_assessed_pole_has_them_lowest_first) {
    const Assessed a = PoleCase{}
                           .original(40)
                           .present(40)
                           .with(pocket(1, 1).at(12))
                           .with(pocket(1, 1).at(-2))
                           .with(pocket(1, 1).at(0.4))
                           .assess();
    ASSERT_EQ(a.sections.size(), 3U);
    EXPECT_NEAR(a.sections[0].height.feet(), -2, 1e-12);
    EXPECT_EQ(a.sections[1].height, Length{});
    EXPECT_NEAR(a.sections[2].height.feet(), 12, 1e-12);
}

}  // namespace
}  // namespace linewood::test
