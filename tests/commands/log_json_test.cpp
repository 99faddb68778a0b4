#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::MatchesRegex;

/// Every line of standard error as JSON. @throws nlohmann::json::exception where one is not.
std::vector<nlohmann::json> lines(const ProgramRun& run) {
    std::vector<nlohmann::json> all;
    std::istringstream in{run.err};
    for (std::string line; std::getline(in, line);) {
        all.push_back(nlohmann::json::parse(line));
        EXPECT_TRUE(all.back().is_object());
        EXPECT_THAT(all.back().at("time").get<std::string>(),
                    MatchesRegex("[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z"));
        EXPECT_TRUE(all.back().at("level").is_string());
        EXPECT_TRUE(all.back().at("code").is_string());
    }
    return all;
}

TEST(LogJson, ARunIsStagesAndWhatItCameTo) {
    const SurveyFolder f;
    const ProgramRun run = f.assess({"--log", "json"});
    EXPECT_EQ(run.exit_code, 0);
    EXPECT_THAT(run.out, IsEmpty());
    const auto all = lines(run);
    ASSERT_GT(all.size(), 3U);
    for (std::size_t i = 0; i + 1 < all.size(); ++i) {
        EXPECT_EQ(all[i].at("code"), "stage");
        EXPECT_TRUE(all[i].at("total").is_number());
    }
    const auto& done = all.back();
    EXPECT_EQ(done.at("code"), "done");
    EXPECT_EQ(done.at("poles"), 5);
    for (const char* const verdict : {"replace", "stub", "unassessed", "treat", "serviceable"}) {
        EXPECT_EQ(done.at("verdicts").at(verdict), 1) << verdict;
    }
    EXPECT_EQ(done.at("output"), f.output().string());
    EXPECT_EQ(done.at("rows").at("spans"), 4);
    EXPECT_TRUE(done.at("findings").is_object());
}

TEST(LogJson, QuietKeepsTheResultOnly) {
    const SurveyFolder f;
    const ProgramRun run = f.assess({"--log=json", "--quiet"});
    EXPECT_EQ(run.exit_code, 0);
    for (const auto& line : lines(run)) {
        EXPECT_EQ(line.at("code"), "done");
    }
    EXPECT_THAT(run.out, IsEmpty());
}

TEST(LogJson, ErrorsAreOneLineToo) {
    const SurveyFolder f;
    const std::string odd = "no \"such\" \xFF file\n.gpkg";
    const std::vector<std::pair<Arguments, std::pair<int, std::string>>> table{
        {{"assess", odd, "--out", f.output().string(), "--log", "json"}, {1, "failed"}},
        {{"assess", "--log=json", "--frob"}, {2, "usage"}},
        {{"assess", f.input().string(), "--out", f.path("x"), "--log", "json"}, {2, "usage"}},
        {{"assess", f.input().string(), "--out", f.path("no/o.gpkg"), "--log", "json"},
         {1, "failed"}},
    };
    for (const auto& [arguments, expected] : table) {
        const ProgramRun run = linewood(arguments);
        EXPECT_EQ(run.exit_code, expected.first) << run.err;
        EXPECT_THAT(run.out, IsEmpty());
        const auto all = lines(run);
        ASSERT_FALSE(all.empty());
        EXPECT_EQ(all.back().at("level"), "error");
        EXPECT_EQ(all.back().at("code"), expected.second);
        EXPECT_FALSE(all.back().at("message").get<std::string>().empty());
    }
}

}  // namespace
}  // namespace linewood::testing
