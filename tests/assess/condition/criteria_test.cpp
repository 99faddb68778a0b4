// The profile `general-practice`: every default figure of the contract, written out.

#include "assess/condition/criteria.hpp"

#include <cmath>

#include <gtest/gtest.h>

namespace linewood::test {
namespace {

TEST(criteria, limits_of_general_practice) {
    const Criteria c;
    EXPECT_EQ(c.name, "general-practice");
    EXPECT_EQ(c.governing_strength_min, 0.65);
    EXPECT_EQ(c.weakest_strength_min, 0.50);
    EXPECT_DOUBLE_EQ(c.girth_ratio_min, std::cbrt(0.65));
    EXPECT_EQ(c.shell_min.inches(), 2.0);
    EXPECT_EQ(c.shell_pocket_width.inches(), 1.0);
    EXPECT_EQ(c.split_loss_max, 0.05);
    EXPECT_EQ(c.limit_tolerance, 1e-9);
    EXPECT_EQ(c.decay_girth_ratio, 0.98);
    EXPECT_DOUBLE_EQ(c.urgent_strength_share, 2.0 / 3.0);
    EXPECT_FALSE(c.present_stands_for_original);
}

TEST(criteria, settings_of_general_practice) {
    const Criteria c;
    EXPECT_EQ(c.governing_deflection_max.degrees(), 30.0);
    EXPECT_EQ(c.in_line_sector.degrees(), 30.0);
    EXPECT_EQ(c.out_of_line_sector.degrees(), 30.0);
    EXPECT_DOUBLE_EQ(c.zone_top.inches(), 15.0);
    EXPECT_DOUBLE_EQ(c.section_reach.feet(), 0.5);
    EXPECT_EQ(c.bore_45_factor, 0.7);
    EXPECT_EQ(c.bore_merge.degrees(), 1.0);
    EXPECT_EQ(c.join_days, 30);
    EXPECT_DOUBLE_EQ(c.girth_low.inches(), 5.0);
    EXPECT_DOUBLE_EQ(c.girth_high.inches(), 120.0);
}

TEST(criteria, common_practice_says_that_it_has_no_source) {
    const Criteria c;
    for (const char* setting : {"governing_strength_min", "shell_min_in", "bore_45_factor"}) {
        EXPECT_NE(c.sources.at(setting).find("common practice, no source"), std::string::npos);
    }
    EXPECT_NE(c.sources.at("weakest_strength_min").find("own choice"), std::string::npos);
    EXPECT_NE(c.sources.at("zone_top_in").find("TM 5-684/MO-200"), std::string::npos);
}

TEST(criteria, a_limit_is_met_within_one_part_in_a_thousand_million) {
    const Criteria c;
    EXPECT_TRUE(c.meets(0.65, 0.65));
    EXPECT_TRUE(c.meets(0.65 * (1.0 - 0.9e-9), 0.65));
    EXPECT_FALSE(c.meets(0.65 * (1.0 - 1.1e-9), 0.65));
    EXPECT_TRUE(c.meets(-2.0 - 1.9e-9, -2.0));
    EXPECT_FALSE(c.meets(-2.0 - 2.1e-9, -2.0));
    EXPECT_TRUE(c.meets(0.0, 0.0));
}

}  // namespace
}  // namespace linewood::test
