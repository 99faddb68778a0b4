#include "src/pipeline/near_names.hpp"

#include <string>
#include <utility>
#include <vector>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/src/pipeline/assess_survey.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

LayerSchema schema_of(const std::vector<std::string>& columns) {
    LayerSchema schema;
    schema.name = "any";
    for (const std::string& name : columns) {
        Field field;
        field.name = name;
        schema.fields.push_back(field);
    }
    return schema;
}

/// `code column` of each doubt about an inspections layer of these columns.
std::vector<std::string> doubts_about(const std::vector<std::string>& columns) {
    Findings findings;
    note_doubtful_names(schema_of(columns), InputLayer::inspections, {}, findings);
    std::vector<std::string> told;
    for (const Finding& f : findings) {
        told.push_back(std::string{f.code} + " " + f.field);
    }
    return told;
}

TEST(NearNames, ASlipIsNearAndAnotherWordIsNot) {
    const std::vector<std::pair<std::string, std::string>> near{
        {"present_circumfrence", "present_circumference"},
        {"Present Circumference", "present_circumference"},
        {"presentcircumferance", "present_circumference"},
        {"inspeted_on", "inspected_on"},
        {"PoleID", "pole_id"},
        {"lenght", "length"},
        {"widht", "width"},
        {"speces", "species"}};
    for (const auto& [written, field] : near) {
        EXPECT_TRUE(is_near_name(written, field)) << written;
    }
    const std::vector<std::pair<std::string, std::string>> far{
        {"created", "treated"},
        {"weight", "height"},
        {"original_height", "original_circumference"},
        {"method2", "notes"},
        {"kin", "kind"},
        {"", "kind"},
        {"___", "kind"},
        {std::string(10000, 'x'), "species"}};
    for (const auto& [written, field] : far) {
        EXPECT_FALSE(is_near_name(written, field)) << written;
    }
}

TEST(NearNames, OnlyAFieldThatTheLayerLacksIsMissed) {
    EXPECT_THAT(doubts_about({"pole_id", "inspected_on", "present_circumfrence"}),
                ElementsAre("column_name_near present_circumfrence"));
    EXPECT_THAT(doubts_about({"pole_id", "present_circumference", "present_circumfrence"}),
                IsEmpty());
}

TEST(NearNames, OfTwoColumnsOfOneNameTheOneNotReadIsDoubted) {
    EXPECT_THAT(doubts_about({"pole_id", "notes", "Notes", "colour", "colour"}),
                ElementsAre("column_repeated Notes"));
    EXPECT_THAT(doubts_about({"pole_id", "Notes", "notes"}), ElementsAre("column_repeated Notes"));
    EXPECT_THAT(
        doubts_about({"pole_id", "Notes", "NOTES", "notes", "notes"}),
        ElementsAre("column_repeated Notes", "column_repeated NOTES", "column_repeated notes"));
}

TEST(NearNames, AMisspeltGirthIsToldOfByARun) {
    Survey s;
    s.add_pole("P", 0, 0);
    s.add_visit("P",
                "2024-05-01",
                {{"method", "excavated"},
                 {"original_circumference", 36.0},
                 {"present_circumfrence", 25.5}});
    const AssessedSurvey a{s};
    const Row& doubt = a.doubt("column_name_near");
    EXPECT_EQ(doubt.at("layer"), "inspections");
    EXPECT_EQ(doubt.at("field"), "present_circumfrence");
    EXPECT_EQ(doubt.at("severity"), "warning");
    EXPECT_THAT(doubt.at("message").get<std::string>(),
                ::testing::HasSubstr("is it present_circumference?"));
    EXPECT_EQ(AssessedSurvey{a.output()}.doubts("column_name_near").size(), 1U)
        << "columns of the tool's own are none of it";
}

}  // namespace
}  // namespace linewood::testing
