#include <filesystem>
#include <regex>

#include <sys/resource.h>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

namespace fs = std::filesystem;
using Json = nlohmann::json;

const char* const kHostile =
    "<script>alert(1)</script>\"; DROP TABLE poles; --\xE2\x80\xA8&{{title}}";

/// A survey with ids that are no file names, assessed.
class AssessedFolder {
public:
    AssessedFolder()
        : folder_{[] {
              Survey s = five_poles();
              for (const char* id : {kHostile, "../../x", "CON", "\xE2\x80\xAEgnp.exe"}) {
                  s.add_pole(id, 300.0 + static_cast<double>(s.poles.rows.size()), 0.0);
                  s.add_visit(id, "2024-05-01", {{"aboveground_damage", "extensive"}});
              }
              return s;
          }()} {
        const ProgramRun run = linewood({"assess", input(), "--out", path("done.gpkg"), "-q"});
        EXPECT_EQ(run.exit_code, 0) << run.err;
    }
    std::string path(const std::string& name) const { return (folder_.folder() / name).string(); }
    ProgramRun publish(std::vector<std::string> more = {},
                       const std::function<int()>& prepare = {}) const {
        std::vector<std::string> arguments{"publish", path("done.gpkg"), "--out", path("site")};
        arguments.insert(arguments.end(), more.begin(), more.end());
        return linewood(arguments, prepare);
    }
    std::string text(const std::string& name) const {
        return content_of(fs::path{path("site")} / name);
    }
    Json script(const std::string& name) const {
        const std::string all = text(name);
        const auto begin = all.find("= {") + 2;
        return Json::parse(all.substr(begin, all.rfind(';') - begin));
    }

private:
    std::string input() const { return folder_.input().string(); }
    SurveyFolder folder_;
};

std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const auto& entry : fs::recursive_directory_iterator{folder}) {
        if (entry.is_regular_file()) {
            files.push_back(entry.path());
        }
    }
    return files;
}

TEST(PublishCommand, CountsAsSqlDoes) {
    const AssessedFolder f;
    const ProgramRun run = f.publish();
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Json site = f.script("data/site.js");
    const Json poles = f.script("data/poles.js");
    const Table verdicts =
        read_sql(f.path("done.gpkg"), "SELECT verdict, COUNT(*) AS n FROM poles GROUP BY verdict");
    ASSERT_FALSE(verdicts.rows.empty());
    for (const Row& row : verdicts.rows) {
        EXPECT_EQ(site["counts"]["by_verdict"][row.at("verdict").get<std::string>()].get<int>(),
                  row.at("n").get<int>());
    }
    const Table all = read_table(f.path("done.gpkg"), "poles");
    ASSERT_EQ(poles["count"].get<std::size_t>(), all.rows.size());
    for (std::size_t i = 0; i < all.rows.size(); ++i) {
        const Json& strengths = poles["columns"]["remaining_pct"];
        EXPECT_EQ(strengths[i].is_null(), all.rows[i].at("remaining_pct").is_null());
        if (!strengths[i].is_null()) {
            EXPECT_EQ(strengths[i].get<double>(), all.rows[i].at("remaining_pct").get<double>());
        }
    }
    EXPECT_EQ(content_of(fs::path{f.path("site")} / "downloads/done.gpkg"),
              content_of(f.path("done.gpkg")));
}

TEST(PublishCommand, NoValueRunsAndEveryPageIsStrict) {
    const AssessedFolder f;
    ASSERT_EQ(f.publish({"--title", "<img src=x onerror=alert(1)>{{noscript}}"}).exit_code, 0);
    for (const fs::path& file : files_in(f.path("site"))) {
        const std::string text = content_of(file);
        const std::string kind = file.extension().string();
        if (kind == ".html" || kind == ".js" || kind == ".svg") {
            EXPECT_THAT(text, Not(HasSubstr("<script>alert"))) << file;
            EXPECT_THAT(text, Not(HasSubstr("<img src=x"))) << file;
        }
        if (kind == ".html") {
            EXPECT_THAT(text, HasSubstr("Content-Security-Policy")) << file;
            EXPECT_THAT(text, Not(HasSubstr("unsafe-inline"))) << file;
            EXPECT_THAT(text, Not(HasSubstr(" style=\""))) << file;
            EXPECT_THAT(text, HasSubstr("Never climb")) << file;
        }
    }
    const Json ids = f.script("data/poles.js")["columns"]["pole_id"];
    EXPECT_NE(ids.dump().find("alert(1)"), std::string::npos);
}

TEST(PublishCommand, EveryLinkLeadsToAFile) {
    const AssessedFolder f;
    ASSERT_EQ(f.publish().exit_code, 0);
    const std::regex link{R"re((?:href|src)="([^"#:?]+)")re"};
    std::size_t links = 0;
    for (const fs::path& page : files_in(f.path("site"))) {
        if (page.extension() != ".html") {
            continue;
        }
        const std::string text = content_of(page);
        for (std::sregex_iterator it{text.begin(), text.end(), link}, end; it != end; ++it) {
            ++links;
            EXPECT_TRUE(fs::exists(page.parent_path() / (*it)[1].str()))
                << page << ": " << (*it)[1].str();
        }
    }
    EXPECT_GT(links, 30U);
}

TEST(PublishCommand, ReplacesASiteAndNothingElse) {
    const AssessedFolder f;
    ASSERT_EQ(f.publish().exit_code, 0);
    const std::string poles = f.text("data/poles.js");
    const std::string site = f.text("data/site.js");
    const ProgramRun again = f.publish();
    EXPECT_EQ(again.exit_code, 1);
    EXPECT_THAT(again.err, HasSubstr("--overwrite"));
    ASSERT_EQ(f.publish({"--overwrite"}).exit_code, 0);
    EXPECT_EQ(f.text("data/poles.js"), poles);
    EXPECT_EQ(f.text("data/site.js"), site);
    std::ofstream{fs::path{f.path("site")} / "worksheets" / "mine.txt"} << "mine";
    const ProgramRun refused = f.publish({"--overwrite"});
    EXPECT_EQ(refused.exit_code, 1);
    EXPECT_THAT(refused.err, HasSubstr("worksheets/mine.txt"));
    EXPECT_EQ(f.text("worksheets/mine.txt"), "mine");
}

TEST(PublishCommand, LeavesNothingAtAFullDisk) {
    const AssessedFolder f;
    const ProgramRun run = f.publish({"-q"}, [] {
        const rlimit limit{50000, 50000};
        return ::setrlimit(RLIMIT_FSIZE, &limit) == 0 ? 0 : 99;
    });
    EXPECT_EQ(run.exit_code, 1) << run.err;
    EXPECT_FALSE(fs::exists(f.path("site")));
    for (const auto& entry : fs::directory_iterator{fs::path{f.path("done.gpkg")}.parent_path()}) {
        EXPECT_THAT(entry.path().filename().string(), Not(HasSubstr(".site.linewood")));
    }
}

TEST(PublishCommand, WritesTilesBeyondTheLimit) {
    const AssessedFolder f;
    const ProgramRun run = f.publish({"--embed-limit", "3", "--worksheets", "none"});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Json site = f.script("data/site.js");
    EXPECT_EQ(site["mode"], "tiles");
    EXPECT_TRUE(fs::exists(fs::path{f.path("site")} / "tiles/0/0/0.pbf"));
    EXPECT_FALSE(site["notes"].empty());
}

TEST(PublishCommand, TakesOverNoPageThatTheToolDidNotWrite) {
    const AssessedFolder f;
    std::ofstream{f.path("page.html")} << "<!DOCTYPE html><title>x</title><script>1</script>";
    const ProgramRun run = f.publish({"--page", f.path("page.html")});
    EXPECT_EQ(run.exit_code, 1);
    EXPECT_THAT(run.err, HasSubstr("is no page that this version of linewood wrote"));
    EXPECT_FALSE(fs::exists(f.path("site")));
}

TEST(PublishCommand, SaysWhatOfAnotherStateIsShown) {
    const AssessedFolder f;
    const ProgramRun run = linewood({"corridors", f.path("done.gpkg"), "--out", f.path("c.gpkg")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const ProgramRun same = f.publish({"--corridors", f.path("c.gpkg")});
    ASSERT_EQ(same.exit_code, 0) << same.err;
    EXPECT_THAT(same.err, Not(HasSubstr("another state")));
    ASSERT_EQ(
        linewood(
            {"assess", f.path("in.gpkg"), "--out", f.path("other.gpkg"), "--units", "si", "-q"})
            .exit_code,
        0);
    const ProgramRun other = linewood({"publish",
                                       f.path("other.gpkg"),
                                       "--out",
                                       f.path("other"),
                                       "--corridors",
                                       f.path("c.gpkg")});
    ASSERT_EQ(other.exit_code, 0) << other.err;
    EXPECT_THAT(other.err, HasSubstr("another state"));
}

TEST(PublishCommand, ABackgroundSaysWhoMadeIt) {
    const AssessedFolder f;
    const ProgramRun run = f.publish({"--background", f.path("done.gpkg") + ":spans"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err, HasSubstr("--attribution"));
}

}  // namespace
}  // namespace linewood::testing
