// `linewood criteria`: what it prints, and what it refuses.

#include <algorithm>
#include <fstream>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/places/places.hpp"
#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using Json = nlohmann::json;
using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::StartsWith;

Json examples() {
    std::ifstream in{test_file("schema/criteria_examples.json")};
    return Json::parse(in);
}

ProgramRun check(const TempDir& folder, const std::string& text) {
    return linewood({"criteria", "check", folder.file("ours.json", text).string()});
}

TEST(CriteriaCommand, ListsAProfileALine) {
    const ProgramRun run = linewood({"criteria", "list"});
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_EQ(std::count(run.out.begin(), run.out.end(), '\n'), 4);
    EXPECT_THAT(run.out, StartsWith("general-practice  A section keeps 65 %"));
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("\ntwo-thirds "),
                      HasSubstr("\nsixty-percent "),
                      HasSubstr("\ntransmission-3in ")));
    const Json list = Json::parse(linewood({"criteria", "list", "--format", "json"}).out);
    ASSERT_EQ(list.size(), 4U);
    EXPECT_EQ(list[1].at("name"), "two-thirds");
    EXPECT_EQ(list[1].at("sha256").get<std::string>().size(), 64U);
}

TEST(CriteriaCommand, ShowsAWholeProfileWithItsSources) {
    const ProgramRun run = linewood({"criteria", "show", "transmission-3in"});
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_THAT(run.out,
                AllOf(StartsWith("transmission-3in\n"),
                      HasSubstr("on top of general-practice"),
                      HasSubstr("governing_strength_min           66.25 %"),
                      HasSubstr("source: Bureau of Reclamation"),
                      HasSubstr("nearest_line_m                       off")));
}

TEST(CriteriaCommand, WhatIsShownAsJsonIsAProfileAndHasTheHashOfTheRun) {
    const SurveyFolder f;
    const ProgramRun shown = linewood({"criteria", "show", "two-thirds", "--format", "json"});
    f.folder().file("copy.json", shown.out);
    const Json checked =
        Json::parse(linewood({"criteria", "check", f.path("copy.json"), "--format", "json"}).out);
    EXPECT_THAT(checked.at("notes"), IsEmpty());
    ASSERT_EQ(f.assess({"--criteria", "two-thirds"}).exit_code, 0);
    const Table by_name = read_table(f.output(), "run");
    ASSERT_EQ(f.assess({"--criteria", f.path("copy.json"), "--overwrite"}).exit_code, 0);
    const Table by_file = read_table(f.output(), "run");
    for (const Table* run : {&by_name, &by_file}) {
        EXPECT_EQ(run->row("item", "criteria_name").at("value"), "two-thirds");
        EXPECT_EQ(run->row("item", "criteria_sha256").at("value").get<std::string>(),
                  checked.at("sha256").get<std::string>());
    }
}

TEST(CriteriaCommand, SaysWhereAFileDiffersAndWhatThatMeans) {
    const TempDir folder;
    const ProgramRun run = check(folder, R"({"name": "ours", "extends": "two-thirds",
        "limits": {"shell_min_in": 1.5, "weakest_strength_min": 0.7}, "rules": {"join_days": 10},
        "sources": {"shell_min_in": "our standard 12"}})");
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(
        run.out,
        AllOf(HasSubstr(R"(a valid profile, "ours", on top of two-thirds)"),
              HasSubstr("differs from general-practice in 5 settings\n"),
              HasSubstr(
                  "governing_strength_min: 66.67 % instead of 65 %, stricter: more poles fail\n"),
              HasSubstr("shell_min_in: 1.5 in instead of 2 in, more lenient: fewer poles fail\n"),
              HasSubstr("source: our standard 12\n"),
              HasSubstr("join_days: 10 days instead of 30 days\n")));
    EXPECT_THAT(run.out,
                AllOf(HasSubstr("note: rules.join_days has no source"),
                      HasSubstr("note: limits.weakest_strength_min has no source"),
                      HasSubstr("note: limits.weakest_strength_min is above")));
    EXPECT_THAT(run.out, Not(HasSubstr("note: limits.shell_min_in")));
}

TEST(CriteriaCommand, QuietKeepsTheAnswer) {
    const TempDir folder;
    const std::string file = folder.file("ours.json", R"({"name": "ours"})").string();
    const ProgramRun loud = linewood({"criteria", "check", file});
    EXPECT_THAT(loud.out, HasSubstr("a valid profile"));
    EXPECT_EQ(linewood({"criteria", "check", file, "-q"}).out, loud.out);
}

TEST(CriteriaCommand, RefusesANameThatIsTaken) {
    const TempDir folder;
    for (const char* const name :
         {"two-thirds", "general-practice", "General Practice", "GENERAL_PRACTICE"}) {
        const ProgramRun run = check(
            folder, std::string{R"({"name": ")"} + name + R"(", "limits": {"shell_min_in": 0.5}})");
        EXPECT_EQ(run.exit_code, 2) << name;
        EXPECT_THAT(run.err, HasSubstr("is the name of a profile that comes with the program"));
        const ProgramRun section = linewood(
            {"section", "--original", "40", "--criteria", (folder / "ours.json").string()});
        EXPECT_EQ(section.exit_code, 2) << name;
    }
    EXPECT_THAT(check(folder, R"({"name": "general-practice"})").out,
                AllOf(HasSubstr("asks for the same as general-practice"), Not(HasSubstr("note"))));
}

TEST(CriteriaCommand, ANumberThatCannotBindIsNoted) {
    const TempDir folder;
    EXPECT_THAT(check(folder, R"({"name": "x", "limits": {"girth_ratio_min": 0.9}})").out,
                HasSubstr("keeps 72.9 % of its strength"));
}

TEST(CriteriaCommand, TakesAndRefusesWhatTheSchemaDoesAndNamesThePath) {
    const TempDir folder;
    const Json all = examples();
    for (const Json& good : all.at("good")) {
        EXPECT_EQ(check(folder, good.dump()).exit_code, 0) << good;
    }
    for (const char* const list : {"bad", "bad_beyond_the_schema"}) {
        for (const Json& bad : all.at(list)) {
            const ProgramRun run = check(folder, bad.at("profile").dump());
            EXPECT_EQ(run.exit_code, 2) << bad;
            EXPECT_THAT(run.out, IsEmpty());
            EXPECT_THAT(run.err,
                        HasSubstr("ours.json: " + bad.at("path").get<std::string>() + ": "));
        }
    }
}

TEST(CriteriaCommand, PrintsItsSchema) {
    const ProgramRun run = linewood({"criteria", "schema"});
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_EQ(Json::parse(run.out).at("title"), "Linewood criteria profile");
}

TEST(CriteriaCommand, NamesWhatWasCalledWrongly) {
    const std::vector<std::pair<Arguments, std::string>> table{
        {{"criteria"}, "action is required"},
        {{"criteria", "shw"}, "did you mean \"show\""},
        {{"criteria", "show"}, "name a profile"},
        {{"criteria", "check"}, "name a profile"},
        {{"criteria", "list", "two-thirds"}, "one word too many"},
        {{"criteria", "show", "two-third"}, "did you mean \"two-thirds\""},
        {{"criteria", "show", "no-such-file.json"}, "no-such-file.json: no such file"},
        {{"section", "--original", "40", "--criteria", "sixtypercent"}, "\"sixty-percent\""},
    };
    for (const auto& [arguments, words] : table) {
        const ProgramRun run = linewood(arguments);
        EXPECT_EQ(run.exit_code, 2) << words;
        EXPECT_THAT(run.err, HasSubstr(words));
    }
}

TEST(CriteriaCommand, AShippedNameDecidesASection) {
    // A round section at 87 % of its girth keeps 65.85 %.
    const Arguments section{"section", "--original", "100", "--present", "87", "--line", "N"};
    const auto with = [&](const char* name) {
        Arguments all = section;
        all.insert(all.end(), {"--criteria", name, "--format", "json"});
        return Json::parse(linewood(all).out).at("passes");
    };
    EXPECT_EQ(with("general-practice"), true);
    EXPECT_EQ(with("sixty-percent"), true);
    EXPECT_EQ(with("two-thirds"), false);
    EXPECT_EQ(with("transmission-3in"), false);
}

}  // namespace
}  // namespace linewood::testing
