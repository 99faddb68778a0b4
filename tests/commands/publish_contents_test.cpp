// What a published site holds beside its pages: words of the filters, the search index, downloads, layers of the user,
// worksheets of datasets that a job file or own wood tables were used for.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

namespace fs = std::filesystem;
using Json = nlohmann::ordered_json;

constexpr const char* kDay = "2026-06-01";

/// Five poles and some that a page has trouble with.
Survey troubled() {
    Survey s = five_poles();
    const auto add = [&](const std::string& id, const std::string& date, const Row& more) {
        s.add_pole(id, 400.0 + static_cast<double>(s.poles.rows.size()) * 30.0, 0.0, more);
        s.add_visit(id, date, {{"method", "bore"}});
    };
    add("upper", "2024-05-01", {{"circuit", "North"}});
    add("UPPER2", "2025-05-01", {{"circuit", "South <b>"}});
    add(std::string(300, 'x'), "2062-05-01", {{"circuit", ""}});
    add("\xF0\x9F\x8C\xB2 tree", "2023-01-01", {{"count", 17}});
    add("\xEF\xBC\xA1 wide", "2023-01-01", {});
    add("same", "2024-05-01", {});
    add("same", "2024-05-01", {});
    return s;
}

/// A site of an assessed survey.
class PublishedSite {
public:
    explicit PublishedSite(const Survey& survey) : folder_{survey} {
        const ProgramRun run = folder_.assess({"--today", kDay, "-q"});
        EXPECT_EQ(run.exit_code, 0) << run.err;
    }
    std::string path(const std::string& name) const { return folder_.path(name); }
    std::string dataset() const { return folder_.output().string(); }
    const SurveyFolder& folder() const { return folder_; }
    ProgramRun publish(const Arguments& more = {}, const std::string& from = "") const {
        Arguments all{"publish", from.empty() ? dataset() : from, "--out", path("site")};
        all.insert(all.end(), more.begin(), more.end());
        return linewood(all);
    }
    Json script(const std::string& name) const {
        const std::string all = content_of(fs::path{path("site")} / name);
        const auto begin = all.find("= {") + 2;
        return Json::parse(all.substr(begin, all.rfind(';') - begin));
    }
    /// All entries of the search index, in order, and the first of each file.
    std::pair<Json, Json> index() const {
        Json entries = Json::array();
        Json first = Json::array();
        const Json page = script("data/site.js");
        for (const Json& word : page["search"]["first"]) {
            const std::string number = std::to_string(1000 + first.size()).substr(1);
            const Json file = Json::parse(
                content_of(fs::path{path("site")} / "data/search" / (number + ".json")));
            entries.insert(entries.end(), file.begin(), file.end());
            first.push_back(word);
        }
        return {entries, first};
    }

private:
    SurveyFolder folder_;
};

TEST(PublishContents, FiltersOfferWhatAllPolesHaveAndNoYearToCome) {
    const PublishedSite site{troubled()};
    for (const Arguments& more : {Arguments{}, Arguments{"--embed-limit", "3"}}) {
        Arguments all = more;
        all.insert(all.end(), {"--table-limit", "2", "--worksheet-limit", "2", "--overwrite"});
        ASSERT_EQ(site.publish(all).exit_code, 0);
        const Json page = site.script("data/site.js");
        EXPECT_EQ(page["date"], kDay);
        EXPECT_EQ(page["words"]["circuit"], Json({"North", "South <b>", nullptr}));
        EXPECT_EQ(page["words"]["year"], Json({2023, 2024, 2025}));
        EXPECT_EQ(page["words"]["after_that"], 1);
        EXPECT_EQ(page["reasons"]["decay_present"], "decay is recorded, or the girth has shrunk");
    }
}

TEST(PublishContents, SearchIndexHasEveryPoleInOrder) {
    const PublishedSite site{troubled()};
    ASSERT_EQ(site.publish({"--embed-limit", "3", "--table-limit", "2", "--worksheet-limit", "2"})
                  .exit_code,
              0);
    const auto [entries, first] = site.index();
    const Table poles = read_table(site.dataset(), "poles");
    ASSERT_EQ(entries.size(), poles.rows.size());
    std::vector<std::string> ids;
    for (const Json& entry : entries) {
        const Row& pole = poles.rows.at(entry[1].get<std::size_t>());
        EXPECT_EQ(entry[0], pole.at("pole_id"));
        EXPECT_EQ(entry[4], pole.at("verdict"));
        EXPECT_NEAR(entry[3].get<double>(), 45.15, 0.1);
        ids.push_back(entry[0]);
    }
    EXPECT_THAT(ids,
                ElementsAre("A",
                            "B",
                            "C",
                            "D",
                            "E",
                            "same",
                            "same",
                            "upper",
                            "UPPER2",
                            std::string(300, 'x'),
                            "\xEF\xBC\xA1 wide",
                            "\xF0\x9F\x8C\xB2 tree"));
    EXPECT_EQ(first, Json({"a"}));
    const Json kept = site.script("data/poles.js");
    ASSERT_EQ(kept["row"].size(), 2U);
    EXPECT_EQ(kept["row"][0], 3) << "D is the worst";
}

TEST(PublishContents, TilesAreListedSoThatNoneIsAskedForInVain) {
    const PublishedSite site{troubled()};
    ASSERT_EQ(site.publish({"--embed-limit", "3"}).exit_code, 0);
    std::size_t listed = 0;
    const Json page = site.script("data/site.js");
    for (const auto& [zoom, columns] : page["tiles"]["there"].items()) {
        for (const auto& [column, runs] : columns.items()) {
            for (std::size_t i = 0; i < runs.size(); i += 2) {
                for (int row = runs[i]; row <= runs[i + 1].get<int>(); ++row, ++listed) {
                    EXPECT_TRUE(fs::exists(fs::path{site.path("site")} / "tiles" / zoom / column /
                                           (std::to_string(row) + ".pbf")));
                }
            }
        }
    }
    const auto tiles = fs::recursive_directory_iterator{fs::path{site.path("site")} / "tiles"};
    const auto files = std::count_if(
        fs::begin(tiles), fs::end(tiles), [](const auto& e) { return e.is_regular_file(); });
    EXPECT_EQ(listed, static_cast<std::size_t>(files));
}

TEST(PublishContents, DownloadsCarryLayersOfTheUserAndSayWhatIsInThem) {
    const PublishedSite site{five_poles()};
    Table works{"Road works (2024)", {}, "LINESTRING", Survey::kUtm10};
    works.rows.push_back({{"who", "An office"},
                          {"@path", Row::array({{500000.0, 5000000.0}, {500100.0, 5000000.0}})}});
    write_table(site.dataset(), works);
    write_table(site.dataset(), Table{"crews", {{{"crew", "=1+1"}}}, "", ""});
    ASSERT_EQ(site.publish().exit_code, 0);
    std::map<std::string, std::string> titles;
    const Json page = site.script("data/site.js");
    for (const Json& download : page["downloads"]) {
        titles[download["file"]] = download["title"];
        EXPECT_GT(download["bytes"].get<int>(), 0) << download;
        EXPECT_TRUE(fs::exists(fs::path{site.path("site")} / download["file"].get<std::string>()));
    }
    EXPECT_THAT(titles.at("downloads/out.gpkg"),
                AllOf(HasSubstr("poles, 5 rows"),
                      HasSubstr("Road works (2024), 1 row"),
                      HasSubstr("crews, 1 row")));
    EXPECT_EQ(titles.at("downloads/out-flatgeobuf/poles.fgb"), "poles, 5 rows");
    EXPECT_EQ(titles.at("downloads/out-csv/crews.csv"), "crews, 1 row");
    EXPECT_EQ(titles.at("downloads/out-csv/fields.csv"), "unit and meaning of every field, as CSV");
    const auto named = [&](const std::string& folder, const std::string& ending) {
        return std::count_if(titles.begin(), titles.end(), [&](const auto& t) {
            return t.first.find(folder) != std::string::npos &&
                   t.second == "Road works (2024), 1 row" && t.first.ends_with(ending);
        });
    };
    EXPECT_EQ(named("flatgeobuf", ".fgb"), 1);
    EXPECT_EQ(named("csv", ".csv"), 1);
    EXPECT_THAT(content_of(fs::path{site.path("site")} / "fields.html"),
                HasSubstr("Road works (2024)"));
}

TEST(PublishContents, AFolderAsDatasetAndABackground) {
    const SurveyFolder survey{troubled()};
    for (const char* format : {"geojson", "flatgeobuf", "csv"}) {
        const std::string from = survey.path(format);
        ASSERT_EQ(linewood({"assess",
                            survey.input().string(),
                            "--out",
                            from,
                            "--format",
                            format,
                            "--today",
                            kDay,
                            "-q"})
                      .exit_code,
                  0);
        const std::string out = survey.path(std::string{format} + "-site");
        const ProgramRun run = linewood({"publish",
                                         from,
                                         "--background",
                                         survey.input().string() + ":spans",
                                         "--background-title",
                                         "Roads",
                                         "--attribution",
                                         "An office </script>",
                                         "--out",
                                         out});
        ASSERT_EQ(run.exit_code, 0) << format << run.err;
        const std::string page = content_of(fs::path{out} / "data/site.js");
        EXPECT_THAT(page, HasSubstr(R"("attribution": "An office \u003c/script\u003e")"));
        EXPECT_THAT(page, HasSubstr("\"title\": \"Roads\""));
        EXPECT_TRUE(fs::exists(fs::path{out} / "data/background_1.js"));
        const Json poles = [&] {
            const std::string all = content_of(fs::path{out} / "data/poles.js");
            return Json::parse(
                all.substr(all.find("= {") + 2, all.rfind(';') - all.find("= {") - 2));
        }();
        EXPECT_EQ(poles["of"], 12) << format;
        EXPECT_EQ(std::count(poles["lon"].begin(), poles["lon"].end(), nullptr), 0) << format;
    }
}

Survey renamed_ids() {
    Survey s = five_poles();
    for (Row& pole : s.poles.rows) {
        pole["NUM"] = pole["pole_id"];
        pole.erase("pole_id");
    }
    return s;
}

constexpr const char* kJob = R"job({"name": "renamed", "layers": {
    "poles": {"source": "in.gpkg", "layer": "poles", "fields": {"pole_id": "NUM"}},
    "spans": {"source": "in.gpkg", "layer": "spans"},
    "inspections": {"source": "in.gpkg", "layer": "inspections"},
    "defects": {"source": "in.gpkg", "layer": "defects"}}})job";

TEST(PublishContents, WorksheetsOfADatasetMadeWithAJobFile) {
    const SurveyFolder folder{renamed_ids()};
    const std::string job = folder.folder().file("job.json", kJob).string();
    ASSERT_EQ(linewood({"assess", "--job", job, "--out", folder.path("out.gpkg"), "-q"}).exit_code,
              0);
    Arguments publish{"publish", folder.path("out.gpkg"), "--out", folder.path("site")};
    const ProgramRun without = linewood(publish);
    ASSERT_EQ(without.exit_code, 0) << without.err;
    EXPECT_THAT(without.err, AllOf(HasSubstr("no worksheets"), HasSubstr("--job")));
    const auto page = [&] { return content_of(folder.folder() / "site/data/site.js"); };
    EXPECT_THAT(page(), HasSubstr("There are no worksheets here"));
    EXPECT_THAT(content_of(folder.folder() / "site/data/poles.js"),
                HasSubstr("\"pole_id\":[\"A\""));
    EXPECT_FALSE(fs::exists(folder.folder() / "site/worksheets"));
    publish.insert(publish.end(), {"--job", job, "--overwrite"});
    const ProgramRun with = linewood(publish);
    ASSERT_EQ(with.exit_code, 0) << with.err;
    EXPECT_THAT(page(), Not(HasSubstr("There are no worksheets here")));
    EXPECT_THAT(content_of(folder.folder() / "site/worksheets/D.html"), HasSubstr("replace"));
    EXPECT_THAT(with.err, Not(HasSubstr("another verdict")));
    std::ofstream{job, std::ios::app} << "\n";
    const ProgramRun changed = linewood(publish);
    ASSERT_EQ(changed.exit_code, 0) << changed.err;
    EXPECT_THAT(changed.err, HasSubstr("no longer, the one"));
}

TEST(PublishContents, AJobFileThatTheDatasetWasNotMadeWithIsRefused) {
    const PublishedSite site{five_poles()};
    const std::string job = site.folder().folder().file("job.json", kJob).string();
    const ProgramRun run = site.publish({"--job", job});
    EXPECT_EQ(run.exit_code, 2) << run.err;
    EXPECT_THAT(run.err, HasSubstr("without a job file"));
    EXPECT_FALSE(fs::exists(site.path("site")));
}

TEST(PublishContents, WorksheetsWithOwnWoodTablesAskForThem) {
    const SurveyFolder folder;
    const std::string tables = test_file("support/wood_tables_sample.json");
    ASSERT_EQ(folder.assess({"--wood-tables", tables, "-q"}).exit_code, 0);
    Arguments publish{"publish", folder.path("out.gpkg"), "--out", folder.path("site")};
    const ProgramRun without = linewood(publish);
    ASSERT_EQ(without.exit_code, 0) << without.err;
    EXPECT_THAT(without.err, HasSubstr("Name them with --wood-tables"));
    EXPECT_FALSE(fs::exists(folder.folder() / "site/worksheets"));
    publish.insert(publish.end(), {"--wood-tables", tables, "--overwrite"});
    const ProgramRun with = linewood(publish);
    ASSERT_EQ(with.exit_code, 0) << with.err;
    EXPECT_TRUE(fs::exists(folder.folder() / "site/worksheets/D.html"));
}

TEST(PublishContents, ProjectsLeadToTheirSheetsAndPagesHaveTheirTitles) {
    const PublishedSite site{five_poles()};
    ASSERT_EQ(linewood({"projects",
                        site.dataset(),
                        "--costs",
                        sample_file("costs.json"),
                        "--out",
                        site.path("projects.gpkg"),
                        "--sheets",
                        site.path("sheets"),
                        "-q"})
                  .exit_code,
              0);
    ASSERT_EQ(linewood({"clusters",
                        site.dataset(),
                        "--out",
                        site.path("clusters.gpkg"),
                        "--page",
                        site.path("page.html"),
                        "-q"})
                  .exit_code,
              0);
    const ProgramRun run = site.publish({"--projects",
                                         site.path("projects.gpkg"),
                                         "--sheets",
                                         site.path("sheets"),
                                         "--clusters",
                                         site.path("clusters.gpkg"),
                                         "--page",
                                         site.path("page.html")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    const Json page = site.script("data/site.js");
    bool found = false;
    for (const Json& layer : page["layers"]) {
        if (layer["name"] == "projects") {
            found = true;
            EXPECT_EQ(layer["label"], "project_id");
            ASSERT_FALSE(layer["sheets"].empty());
            for (const auto& [id, sheet] : layer["sheets"].items()) {
                EXPECT_TRUE(fs::exists(fs::path{site.path("site")} / sheet.get<std::string>()))
                    << id;
            }
        }
        EXPECT_FALSE(layer["fields"].empty()) << layer["name"];
    }
    EXPECT_TRUE(found);
    std::vector<std::string> titles;
    for (const Json& report : page["reports"]) {
        titles.push_back(report["title"]);
    }
    EXPECT_THAT(titles, Contains("Where decay clusters: out.gpkg"));
}

}  // namespace
}  // namespace linewood::testing
