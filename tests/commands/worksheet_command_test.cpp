// `linewood worksheet`: its figures are the layers', and nothing an id holds does harm.

#include <algorithm>
#include <cctype>
#include <map>
#include <regex>
#include <set>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"
#include "tests/support/worksheet_pages.hpp"

namespace linewood::testing {
namespace {

using Json = nlohmann::json;

TEST(WorksheetCommand, PrintsWhatTheLayersHave) {
    for (const char* units : {"us", "si"}) {
        const SurveyFolder folder;
        expect_same_as_layers(folder.input().string(), folder.folder(), {"--units", units});
    }
}

TEST(WorksheetCommand, PrintsWhatTheLayersHaveOfOddPoles) {
    const SurveyFolder folder{odd_network()};
    expect_same_as_layers(folder.input().string(), folder.folder(), {});
}

Json sheet_of(const std::string& in, const std::string& pole) {
    const ProgramRun run = linewood(worksheet(in, {pole, "--format", "json"}));
    EXPECT_EQ(run.exit_code, 0) << run.err;
    return Json::parse(run.out);
}

/// The rule of a worksheet that applies first.
std::string deciding_rule(const Json& sheet) {
    for (const Json& rule : sheet.at("verdict").at("rules")) {
        if (rule.at("answer") == "applies") {
            return rule.at("rule");
        }
    }
    return "";
}

TEST(WorksheetCommand, AsksTheRulesInOrder) {
    const SurveyFolder folder;
    const std::map<std::string, std::string> deciding{
        {"A", "the_rest"}, {"B", "decay"}, {"C", "zone_fit_for_stub"}, {"E", "not_inspected"}};
    for (const auto& [pole, rule] : deciding) {
        EXPECT_EQ(deciding_rule(sheet_of(folder.input().string(), pole)), rule) << pole;
    }
}

/// Every hand check ends in the share that the section's own table of directions has.
TEST(WorksheetCommand, ItsHandChecksAgree) {
    Survey survey;
    survey.add_pole("A", 0.0, 0.0, {{"recorded_circumference", 40.0}});
    survey.add_pole("B", 0.0, 40.0, {{"recorded_circumference", 40.0}});
    survey.add_pole("C", 0.0, 80.0, {{"recorded_circumference", 40.0}});
    survey.add_span({{0.0, 0.0}, {0.0, 40.0}});
    survey.add_span({{0.0, 40.0}, {0.0, 80.0}});
    for (const char* pole : {"A", "B", "C"}) {
        survey.add_visit(pole, "2024-05-01", {{"present_circumference", 38.0}});
    }
    survey.add_defect("B", "external_pocket", {{"azimuth", 70.0}, {"width", 5.0}, {"depth", 3.0}});
    survey.add_defect("C", "internal_rot", {{"azimuth", 10.0}, {"shell_thickness", 2.5}});
    const SurveyFolder folder{survey};
    for (const char* pole : {"A", "B", "C"}) {
        const Json section = sheet_of(folder.input().string(), pole).at("sections")[0];
        const Json& by_hand = section.at("hand_check").back();
        EXPECT_EQ(by_hand.at("quantity"), "S / S0");
        EXPECT_NEAR(by_hand.at("result").get<double>(),
                    section.at("section").at("governing_pct").get<double>(),
                    1e-6)
            << pole;
    }
}

TEST(WorksheetCommand, GivesNoValueWorkedOnABound) {
    Survey survey;
    survey.add_pole("A", 0.0, 0.0, {{"recorded_circumference", 40.0}});
    survey.add_visit("A", "2024-05-01", {{"method", "hammer"}});
    survey.add_defect("A", "external_pocket", {{"azimuth", 70.0}, {"width", 5.0}, {"depth", 1.0}});
    const SurveyFolder folder{survey};
    const Json section = sheet_of(folder.input().string(), "A").at("sections")[0];
    EXPECT_TRUE(section.at("section").at("governing_pct").is_null());
    const Json& limit = section.at("limits")[0];
    EXPECT_EQ(limit.at("outcome"), "unknown");
    EXPECT_TRUE(limit.at("value").is_null());
    EXPECT_NE(limit.at("value_note").get<std::string>().find("no value, worked on a bound"),
              std::string::npos);
}

TEST(WorksheetCommand, HostileIdsDoNoHarm) {
    Survey survey;
    double y = 0.0;
    for (const std::string& id : hostile_ids()) {
        survey.add_pole(id, 0.0, y, {{"recorded_circumference", 40.0}, {"species", id}});
        survey.add_visit(id, "2024-05-01", {{"present_circumference", 38.0}, {"notes", id}});
        y += 40.0;
    }
    const SurveyFolder folder{survey};
    const ProgramRun run = linewood(worksheet(
        folder.input().string(),
        {"--where", "1=1", "--out", folder.path("sheets"), "--format", "html,markdown,json,svg"}));
    ASSERT_EQ(run.exit_code, 0) << run.err;
    std::set<std::string> lower;
    const std::vector<std::string> names = folder.folder().names("sheets");
    for (const std::string& name : names) {
        EXPECT_LE(name.size(), 120U);
        EXPECT_EQ(name.find_first_not_of(
                      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-"),
                  std::string::npos)
            << name;
        std::string small = name;
        std::transform(small.begin(), small.end(), small.begin(), [](unsigned char c) {
            return static_cast<char>(std::tolower(c));
        });
        EXPECT_TRUE(lower.insert(small).second) << name;
        const std::string content = content_of(folder.folder() / ("sheets/" + name));
        if (name.find(".json") == std::string::npos) {
            EXPECT_EQ(content.find("<script"), std::string::npos) << name;
            EXPECT_EQ(content.find("<img"), std::string::npos) << name;
        }
        if (name.find(".html") != std::string::npos) {
            EXPECT_NE(content.find("Content-Security-Policy"), std::string::npos);
            EXPECT_EQ(content.find("href=\"https:"), std::string::npos) << name;
            EXPECT_EQ(content.find("src="), content.find("src=x onerror")) << name;
        }
    }
    const Json index = Json::parse(content_of(folder.folder() / "sheets/index.json"));
    ASSERT_EQ(index.at("worksheets").size(), hostile_ids().size());
    for (std::size_t i = 0; i < hostile_ids().size(); ++i) {
        EXPECT_EQ(index.at("worksheets")[i].at("pole_id"), hostile_ids()[i]);
    }
}

TEST(WorksheetCommand, AnUnknownPoleIsNamedWithItsNeighbours) {
    Survey survey;
    for (const char* id : {"P-101", "P-102", "P-111", "Q-7"}) {
        survey.add_pole(id, 0.0, 0.0);
    }
    const SurveyFolder folder{survey};
    const ProgramRun run =
        linewood(worksheet(folder.input().string(), {"P-1O1", "--out", folder.path("sheets")}));
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_NE(run.err.find("there is no pole \"P-1O1\"; the nearest ids are \"P-101\""),
              std::string::npos)
        << run.err;
    EXPECT_EQ(folder.names(), (std::vector<std::string>{"in.gpkg"}));
}

TEST(WorksheetCommand, IsToldWhatItIsCalledWronglyWith) {
    const SurveyFolder folder;
    const std::string in = folder.input().string();
    const std::string out = folder.path("sheets");
    const std::vector<std::pair<Arguments, std::string>> cases{
        {{"--out", out}, "which poles?"},
        {{"A", "--where", "1=1", "--out", out}, "not both"},
        {{"A"}, "name a folder with --out"},
        {{"A", "--format", "html"}, "name a folder with --out"},
        {{"A", "B", "--format", "json"}, "2 poles are wanted"},
        {{"A", "--format", "pdf", "--out", out}, "not one of html, markdown, json, svg"},
        {{"--where", "no such thing =", "--out", out}, "--where"},
    };
    for (const auto& [arguments, words] : cases) {
        const ProgramRun run = linewood(worksheet(in, arguments));
        EXPECT_EQ(run.exit_code, 2) << words << run.err;
        EXPECT_NE(run.err.find(words), std::string::npos) << run.err;
    }
    EXPECT_EQ(folder.names(), (std::vector<std::string>{"in.gpkg"}));
}

TEST(WorksheetCommand, ReplacesOnlyWhatItWrote) {
    const SurveyFolder folder;
    const std::string in = folder.input().string();
    const std::string out = folder.path("sheets");
    ASSERT_EQ(linewood(worksheet(in, {"A", "--out", out})).exit_code, 0);
    EXPECT_EQ(folder.folder().names("sheets"),
              (std::vector<std::string>{"A.html", "index.html", "index.json"}));
    const ProgramRun again = linewood(worksheet(in, {"B", "--out", out}));
    EXPECT_EQ(again.exit_code, 1);
    EXPECT_NE(again.err.find("--overwrite"), std::string::npos);
    ASSERT_EQ(linewood(worksheet(in, {"B", "--out", out, "--overwrite"})).exit_code, 0);
    EXPECT_EQ(folder.folder().names("sheets"),
              (std::vector<std::string>{"B.html", "index.html", "index.json"}));
    const auto mine = folder.folder().file("sheets/mine.txt", "notes");
    EXPECT_EQ(linewood(worksheet(in, {"B", "--out", out, "--overwrite"})).exit_code, 1);
    EXPECT_EQ(content_of(mine), "notes");
    EXPECT_EQ(
        linewood(worksheet(in, {"B", "--out", folder.folder().path().string(), "--overwrite"}))
            .exit_code,
        2);
}

TEST(WorksheetCommand, TakesAnAssessedDatasetAndSaysWhereItsCriteriaDiffer) {
    const SurveyFolder folder;
    ASSERT_EQ(folder.assess().exit_code, 0);
    const ProgramRun same = linewood(worksheet(
        folder.output().string(), {"--where", "verdict = 'replace'", "--out", folder.path("s")}));
    ASSERT_EQ(same.exit_code, 0) << same.err;
    EXPECT_EQ(same.err.find("other criteria"), std::string::npos) << same.err;
    EXPECT_EQ(folder.folder().names("s"),
              (std::vector<std::string>{"D.html", "index.html", "index.json"}));
    // Its own columns are results, not records.
    const Json sheet = sheet_of(folder.output().string(), "D");
    for (const Json& field : sheet.at("recorded").at("pole_record")) {
        EXPECT_NE(field.at("field"), "verdict");
    }
    EXPECT_EQ(sheet.at("result"), sheet_of(folder.input().string(), "D").at("result"));

    const auto criteria = folder.folder().file(
        "own.json", R"({"name": "own", "limits": {"governing_strength_min": 0.7}})");
    const ProgramRun other = linewood(worksheet(
        folder.output().string(), {"D", "--format", "json", "--criteria", criteria.string()}));
    EXPECT_EQ(other.exit_code, 0);
    EXPECT_NE(other.err.find("other criteria (general-practice"), std::string::npos) << other.err;
    EXPECT_NE(other.out.find("other criteria (general-practice"), std::string::npos);
}

TEST(WorksheetCommand, FindsThoseThatNeedWork) {
    const SurveyFolder folder;
    ASSERT_EQ(
        linewood(worksheet(folder.input().string(), {"--needing-work", "--out", folder.path("s")}))
            .exit_code,
        0);
    EXPECT_EQ(folder.folder().names("s"),
              (std::vector<std::string>{"B.html", "C.html", "D.html", "index.html", "index.json"}));
}

TEST(WorksheetCommand, MarkdownLinksTheDrawingsThereAre) {
    const SurveyFolder folder;
    ASSERT_EQ(linewood(worksheet(folder.input().string(),
                                 {"D", "--out", folder.path("s"), "--format", "markdown,svg"}))
                  .exit_code,
              0);
    const std::string text = content_of(folder.folder() / "s/D.md");
    EXPECT_EQ(text.rfind("# Pole D\n", 0), 0U);
    const std::regex link{"!\\[[^\\]]*\\]\\(([^)]*)\\)"};
    std::size_t links = 0;
    for (std::sregex_iterator m{text.begin(), text.end(), link}, end; m != end; ++m) {
        ++links;
        EXPECT_FALSE(content_of(folder.folder() / ("s/" + (*m)[1].str())).empty());
    }
    EXPECT_GE(links, 2U);
}

TEST(WorksheetCommand, GivesTheSameBytesWithAnyNumberOfThreads) {
    const SurveyFolder folder{odd_network()};
    for (const char* threads : {"1", "3"}) {
        ASSERT_EQ(linewood(worksheet(folder.input().string(),
                                     {"--where",
                                      "1=1",
                                      "--out",
                                      folder.path(std::string{"s"} + threads),
                                      "--threads",
                                      threads,
                                      "--format",
                                      "html,markdown,json,svg"}))
                      .exit_code,
                  0);
    }
    for (const std::string& name : folder.folder().names("s1")) {
        EXPECT_EQ(content_of(folder.folder() / ("s1/" + name)),
                  content_of(folder.folder() / ("s3/" + name)))
            << name;
    }
}

}  // namespace
}  // namespace linewood::testing
