#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

struct Wrong {
    std::string json;
    std::vector<std::string> words;
};

TEST(CriteriaFile, EveryMistakeIsNamedByItsPlaceAndTheNearestWord) {
    const SurveyFolder f;
    const std::vector<Wrong> table{
        {R"({"name":"x","limit":{}})", {"(top level)", "\"limit\"", "did you mean \"limits\""}},
        {R"({"name":"x","limits":{"governing_strenght_min":0.6}})",
         {"limits", "did you mean \"governing_strength_min\""}},
        {R"({"name":"x","limits":{"governing_strength_min":65}})",
         {"limits.governing_strength_min", "65", "0 to 1"}},
        {R"({"name":"x","limits":{"governing_strength_min":0,"girth_ratio_min":0}})",
         {"limits.governing_strength_min", "above 0"}},
        {R"({"name":"x","limits":{"weakest_strength_min":0}})",
         {"limits.weakest_strength_min", "above 0"}},
        {R"({"name":"x","limits":{"governing_strength_min":"65 %"}})",
         {"limits.governing_strength_min", "65 %", "number"}},
        {R"({"name":"x","limits":{"shell_min_in":-1}})", {"limits.shell_min_in", "-1"}},
        {R"({"name":"x","limits":{"shell_min_mm":50}})",
         {"limits", "\"shell_min_mm\"", "shell_min_in"}},
        {R"({"name":"x","limits":[1]})", {"limits", "object"}},
        {R"({"name":"x","sectors":{"in_line_deg":50,"out_of_line_deg":50}})", {"sectors", "90"}},
        {R"({"name":"x","sectors":{"in_line_deg":true}})", {"sectors.in_line_deg", "true"}},
        {R"({"name":"x","rules":{"present_stands_for_original":"no"}})",
         {"rules.present_stands_for_original", "true or false"}},
        {R"({"name":"x","rules":{"join_days":400}})", {"rules.join_days", "366"}},
        {R"({"name":"x","rules":{"join_days":1.5}})", {"rules.join_days", "1.5", "whole"}},
        {R"({"name":"x","line":{"snap_tolerance_ft":6}})", {"line", "snap_tolerance_m"}},
        {R"({"name":"x","line":{"snap_tolerance_m":1e9}})", {"line.snap_tolerance_m", "10000"}},
        {R"({"name":"x","sources":{"shell_min_in":2}})", {"sources.shell_min_in", "text"}},
        {R"({"limits":{}})", {"\"name\" is missing"}},
        {R"({"name":""})", {"name", "empty"}},
        {R"({"name":"two\nlines"})", {"name", "control character"}},
        {R"({"name":"x","name":"y"})", {"name", "twice"}},
        {R"({"name":"x","limits":{"shell_min_in":1,"shell_min_in":2}})",
         {"limits.shell_min_in", "twice"}},
        {"", {"criteria"}},
        {"{", {"line 1"}},
        {"not JSON", {"line 1"}},
        {R"({"name":"x"} x)", {"line 1"}},
        {R"({"name":"x","limits":{"shell_min_in":NaN}})", {"line 1"}},
        {R"({"name":"x","limits":{"shell_min_in":1e999}})", {"1e999"}},
        {"[1, 2]", {"(top level)", "object"}},
        {"\"x\"", {"(top level)"}},
        {"{\"name\":\"\xFF\"}", {"criteria"}},
        {std::string(200000, '['), {"criteria", "nested more than 60 deep"}},
        {"{\"name\":\"x\",\"note\":" + std::string(5000, '[') + std::string(5000, ']') + "}",
         {"note", "nested more than 60 deep"}},
        {R"({"name":"x","note":[]})", {"note", "a list", "text"}},
        {std::string(2000000, ' '), {"criteria", "2000000 bytes"}},
    };
    for (const Wrong& wrong : table) {
        const auto file = f.folder().file("criteria.json", wrong.json);
        const ProgramRun run = f.assess({"--criteria", file.string()});
        SCOPED_TRACE(wrong.json.substr(0, 80) + "\n" + run.err.substr(0, 500));
        EXPECT_EQ(run.exit_code, 2);
        EXPECT_THAT(run.out, IsEmpty());
        EXPECT_LT(run.err.size(), 1000U);
        EXPECT_THAT(run.err, HasSubstr("criteria.json"));
        for (const std::string& word : wrong.words) {
            EXPECT_THAT(run.err, HasSubstr(word));
        }
        EXPECT_THAT(f.names(), ElementsAre("criteria.json", "in.gpkg"));
    }
}

TEST(CriteriaFile, LimitsOfTheFileDecide) {
    const SurveyFolder f;
    // C keeps 49.5 % and an inch of shell; D keeps 39.4 % and three quarters.
    const auto file = f.folder().file(
        "lenient.json",
        R"({"name": "lenient", "limits": {"governing_strength_min": 0.45, "weakest_strength_min": 0.45,
            "shell_min_in": 1}, "note": "for a test"})");
    ASSERT_EQ(f.assess({"--criteria", file.string()}).exit_code, 0);
    const Table poles = read_table(f.output(), "poles");
    EXPECT_EQ(poles.pole("C").at("verdict"), "treat");
    EXPECT_EQ(poles.pole("D").at("verdict"), "replace");
    EXPECT_EQ(read_table(f.output(), "run").row("item", "criteria_name").at("value"), "lenient");
}

TEST(CriteriaFile, WhatARunStatesCanBeGivenToTheNext) {
    const SurveyFolder f;
    const auto file = f.folder().file("a.json",
                                      R"({"name": "ours", "sources": {"shell_min_in": "we say so"},
        "limits": {"governing_strength_min": 0.7, "shell_min_in": 1.75}, "line": {"snap_tolerance_m": 1.25}})");
    ASSERT_EQ(f.assess({"--criteria", file.string()}).exit_code, 0);
    const Table first = read_table(f.output(), "run");
    const std::string stated = first.row("item", "criteria_profile").at("value");
    f.folder().file("b.json", stated);
    ASSERT_EQ(f.assess({"--criteria", f.path("b.json"), "--overwrite"}).exit_code, 0);
    const Table second = read_table(f.output(), "run");
    for (const char* const item :
         {"criteria_name", "criteria_sha256", "criteria_profile", "job_snap_tolerance"}) {
        EXPECT_EQ(first.row("item", item), second.row("item", item)) << item;
    }
    const auto json = nlohmann::json::parse(stated);
    EXPECT_EQ(json.at("limits").at("shell_min_in"), 1.75);
    EXPECT_EQ(json.at("line").at("snap_tolerance_m"), 1.25);
    EXPECT_EQ(json.at("sources").at("shell_min_in"), "we say so");
}

TEST(CriteriaFile, AnOptionOfTheCommandLineWinsAndIsStated) {
    const SurveyFolder f;
    const auto file =
        f.folder().file("a.json", R"({"name": "ours", "line": {"snap_tolerance_m": 1.25}})");
    ASSERT_EQ(f.assess({"--criteria", file.string(), "--snap", "0.75"}).exit_code, 0);
    const Table run = read_table(f.output(), "run");
    EXPECT_EQ(run.row("item", "job_snap_tolerance").at("value"), "0.75 m");
    EXPECT_THAT(run.row("item", "criteria_profile").at("value").get<std::string>(),
                HasSubstr("\"snap_tolerance_m\":0.75"));
}

TEST(CriteriaFile, AByteOrderMarkIsNoMistake) {
    const SurveyFolder f;
    const auto file = f.folder().file("a.json", "\xEF\xBB\xBF{\"name\": \"ours\"}");
    EXPECT_EQ(f.assess({"--criteria", file.string()}).exit_code, 0);
}

}  // namespace
}  // namespace linewood::testing
