#include "assess/condition/condition_findings.hpp"

#include <algorithm>
#include <set>
#include <string>

#include <gtest/gtest.h>

namespace linewood::test {
namespace {

TEST(condition_findings, codes_are_lower_case_words_and_unique) {
    std::set<std::string> codes;
    for (const FindingKind& kind : finding::kConditionKinds) {
        const std::string code{kind.code};
        EXPECT_TRUE(codes.insert(code).second) << code;
        EXPECT_TRUE(std::all_of(code.begin(), code.end(), [](char c) {
            return (c >= 'a' && c <= 'z') || c == '_';
        })) << code;
        EXPECT_FALSE(kind.meaning.empty()) << code;
    }
    EXPECT_EQ(codes.count("position_conflict"), 1U);
    EXPECT_EQ(codes.count("recovered"), 1U);
}

TEST(condition_findings, one_names_its_feature_field_and_value) {
    const Finding f =
        make_finding(finding::kPocketDeep, InputLayer::defects, 17, "depth", plain_number(7.5));
    EXPECT_EQ(f.code, "pocket_deeper_than_radius");
    EXPECT_EQ(f.severity, Severity::warning);
    EXPECT_EQ(f.feature, "17");
    EXPECT_EQ(f.field, "depth");
    EXPECT_EQ(f.value, "7.5");
    EXPECT_EQ(f.message, finding::kPocketDeep.meaning);
}

TEST(condition_findings, one_about_the_pole_itself_leaves_the_feature_to_the_caller) {
    EXPECT_EQ(make_finding(finding::kNoTableLength, InputLayer::poles, -1, "length", "42").feature,
              "");
}

TEST(condition_findings, numbers_are_written_as_a_person_would) {
    EXPECT_EQ(plain_number(42), "42");
    EXPECT_EQ(plain_number(0.1 + 0.2), "0.3");
    EXPECT_EQ(plain_number(-6.25), "-6.25");
}

}  // namespace
}  // namespace linewood::test
