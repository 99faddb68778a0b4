#include "assess/condition/reason.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace linewood::test {
namespace {

// Other people's layers and scripts depend on these words.
constexpr std::array kContractCodes{
    "strength_below_limit",
    "weakest_below_limit",
    "circumference_below_limit",
    "shell_below_limit",
    "section_split",
    "extensive_damage",
    "minor_damage",
    "unsafe_to_climb",
    "decay_below_excavation",
    "decay_above_groundline",
    "confirm_above_groundline",
    "already_reinforced",
    "decay_present",
    "treated",
    "original_from_tables",
    "not_wood",
    "not_inspected",
    "nothing_measured",
    "present_circumference_missing",
    "original_circumference_missing",
    "pocket_size_missing",
    "shell_thickness_missing",
    "geometry_impossible",
};

std::vector<std::string> all_codes() {
    std::vector<std::string> codes;
    codes.reserve(kReasonCount);
    for (int i = 0; i < kReasonCount; ++i) {
        codes.emplace_back(text_of(static_cast<Reason>(i)).code);
    }
    return codes;
}

TEST(reason, every_code_of_the_contract_is_there) {
    const auto codes = all_codes();
    for (const char* code : kContractCodes) {
        EXPECT_EQ(std::count(codes.begin(), codes.end(), code), 1) << code;
    }
}

TEST(reason, new_codes_are_documented) {
    std::set<std::string> meanings;
    for (int i = 0; i < kReasonCount; ++i) {
        const ReasonText text = text_of(static_cast<Reason>(i));
        EXPECT_FALSE(text.meaning.empty()) << text.code;
        EXPECT_TRUE(meanings.insert(std::string{text.meaning}).second) << text.code;
    }
}

// text_of() must speak of the reason it is asked about.
TEST(reason, codes_belong_to_their_reasons) {
    EXPECT_EQ(text_of(Reason::already_reinforced).code, "already_reinforced");
    EXPECT_EQ(text_of(Reason::duplicate_pole_id).code, "duplicate_pole_id");
    EXPECT_EQ(text_of(Reason::nothing_measured).code, "nothing_measured");
    EXPECT_EQ(text_of(Reason::section_split).code, "section_split");
    EXPECT_EQ(text_of(Reason::weakest_below_limit).code, "weakest_below_limit");
}

TEST(reason, a_set_is_written_sorted_and_separated_by_semicolons) {
    ReasonSet set;
    EXPECT_EQ(set.to_string(), "");
    set.add(Reason::treated);
    EXPECT_EQ(set.to_string(), "treated");
    set.add(Reason::strength_below_limit);
    set.add(Reason::already_reinforced);
    set.add(Reason::treated);
    EXPECT_EQ(set.to_string(), "already_reinforced;strength_below_limit;treated");
}

TEST(reason, the_whole_set_is_in_the_order_of_its_codes) {
    ReasonSet set;
    for (int i = kReasonCount - 1; i >= 0; --i) {
        set.add(static_cast<Reason>(i));
    }
    auto codes = all_codes();
    std::sort(codes.begin(), codes.end());
    std::string expected;
    for (const std::string& code : codes) {
        expected += (expected.empty() ? "" : ";") + code;
    }
    EXPECT_EQ(set.to_string(), expected);
}

TEST(reason, sets_join) {
    ReasonSet a;
    a.add(Reason::treated);
    ReasonSet b;
    b.add_if(true, Reason::not_wood);
    b.add_if(false, Reason::not_inspected);
    a.add(b);
    EXPECT_TRUE(a.has(Reason::treated));
    EXPECT_TRUE(a.has(Reason::not_wood));
    EXPECT_FALSE(a.has(Reason::not_inspected));
    EXPECT_FALSE(a.empty());
    EXPECT_NE(a, b);
}

}  // namespace
}  // namespace linewood::test
