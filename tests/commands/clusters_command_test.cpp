#include <chrono>
#include <csignal>
#include <thread>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/places/places.hpp"
#include "tests/support/assess_program.hpp"

namespace linewood::testing {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsSupersetOf;

/// The sample network, assessed once.
const SurveyFolder& sample() {
    static const SurveyFolder folder;
    static const bool made = [] {
        std::filesystem::remove(folder.input());
        std::filesystem::copy_file(sample_file("sample.gpkg"), folder.input());
        return folder.assess().exit_code == 0;
    }();
    EXPECT_TRUE(made);
    return folder;
}

ProgramRun clusters(const std::string& out, const Arguments& more = {}) {
    Arguments all{
        "clusters", sample().output().string(), "--out", sample().path(out), "--replicates", "99"};
    all.insert(all.end(), more.begin(), more.end());
    return linewood(all);
}

TEST(ClustersCommand, WritesLayersAndAPageAndLeavesItsInputAsItWas) {
    const std::string before = content_of(sample().output());
    const ProgramRun run = clusters("c.gpkg", {"--page", sample().path("c.html")});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("inspected poles with a verdict"));
    EXPECT_THAT(run.out, HasSubstr("Never climb"));
    EXPECT_THAT(
        layer_names(sample().path("c.gpkg")),
        IsSupersetOf(
            {"clusters", "cluster_members", "pole_scores", "rates", "groups", "findings", "run"}));
    EXPECT_THAT(content_of(sample().path("c.html")), HasSubstr("</html>"));
    EXPECT_EQ(content_of(sample().output()), before);
    // What is there stays, unless it may be replaced.
    EXPECT_EQ(clusters("c.gpkg").exit_code, 1);
    EXPECT_EQ(clusters("d.gpkg", {"--page", sample().path("c.html")}).exit_code, 1);
    EXPECT_FALSE(std::filesystem::exists(sample().path("d.gpkg")));
    EXPECT_EQ(clusters("c.gpkg", {"--overwrite"}).exit_code, 0);
}

TEST(ClustersCommand, OfPageAndLayersBothAreThereOrNeither) {
    // Where no file can be made: the page cannot be written.
    const ProgramRun run = clusters("neither.gpkg", {"--page", "/proc/page.html"});
    EXPECT_EQ(run.exit_code, 1) << run.err;
    EXPECT_THAT(run.err, HasSubstr("/proc/page.html"));
    EXPECT_FALSE(std::filesystem::exists(sample().path("neither.gpkg")));
}

TEST(ClustersCommand, RefusesASeedThatIsNone) {
    for (const char* const seed : {"-1", "1.5", "18446744073709551616", "x"}) {
        const ProgramRun run = clusters("seed.gpkg", {"--seed", seed});
        EXPECT_EQ(run.exit_code, 2) << seed;
        EXPECT_THAT(run.err, HasSubstr("not a whole number from 0"));
    }
}

TEST(ClustersCommand, SaysWhereAStratumIsOnePole) {
    const ProgramRun run =
        clusters("alone.gpkg", {"--strata", "pole_id", "--page", sample().path("alone.html")});
    ASSERT_EQ(run.exit_code, 0) << run.err;
    EXPECT_THAT(run.out, HasSubstr("Nothing was tested: in every stratum"));
    const Table findings = read_table(sample().path("alone.gpkg"), "findings");
    const Row& found = findings.row("code", "stratum_of_one");
    EXPECT_EQ(found.at("field"), "pole_id");
    EXPECT_GT(std::stoi(found.at("value").get<std::string>()), 100);
}

TEST(ClustersCommand, APageHasAPlaceOfItsOwn) {
    for (const char* const page : {"p.gpkg", "p.gpkg/page.html", "no/such/folder/page.html", ""}) {
        const ProgramRun run = clusters("p.gpkg", {"--page", sample().path(page)});
        EXPECT_EQ(run.exit_code, 2) << page << run.err;
        EXPECT_THAT(run.err, HasSubstr("--page")) << page;
        EXPECT_FALSE(std::filesystem::exists(sample().path("p.gpkg"))) << page;
    }
}

TEST(ClustersCommand, WritesAFolderOfEveryFormat) {
    for (const char* const format : {"flatgeobuf", "geojson", "shapefile"}) {
        const ProgramRun run = clusters(format, {"--format", format, "--strata", "install_year"});
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_THAT(sample().folder().names(format), Contains("run.csv")) << format;
    }
}

TEST(ClustersCommand, NeverWritesOverItsInput) {
    const std::string before = content_of(sample().output());
    const ProgramRun run = linewood({"clusters",
                                     sample().output().string(),
                                     "--out",
                                     sample().output().string(),
                                     "--overwrite"});
    EXPECT_EQ(run.exit_code, 2);
    EXPECT_THAT(run.err, HasSubstr("never changed"));
    const ProgramRun page =
        clusters("e.gpkg", {"--page", sample().output().string(), "--overwrite"});
    EXPECT_EQ(page.exit_code, 2) << page.err;
    EXPECT_EQ(content_of(sample().output()), before);
}

TEST(ClustersCommand, SaysWhatIsWrongWithItsOptions) {
    const auto refused = [](const Arguments& more) {
        const ProgramRun run = clusters("f.gpkg", more);
        EXPECT_EQ(run.exit_code, 2) << run.out;
        return run.err;
    };
    EXPECT_THAT(refused({"--decayed", "replce"}), HasSubstr("replace"));
    EXPECT_THAT(refused({"--decayed", "unassessed"}), HasSubstr("not one of"));
    EXPECT_THAT(refused({"--decayed", "stub", "--strength-below", "60"}), HasSubstr("give one"));
    EXPECT_THAT(refused({"--strata", "install_year/x"}), HasSubstr("install_year/10"));
    EXPECT_THAT(refused({"--strata", "specis"}), HasSubstr("species"));
    EXPECT_THAT(refused({"--strata", "pole_id/5"}), HasSubstr("is no number"));
    EXPECT_THAT(refused({"--areas-name", "name"}), HasSubstr("--areas"));
    EXPECT_THAT(refused({"--metric-crs", "EPSG:4326"}), HasSubstr("degrees"));
    EXPECT_THAT(refused({"--metric-crs", "foo"}), HasSubstr("is no coordinate system"));
    EXPECT_FALSE(std::filesystem::exists(sample().path("f.gpkg")));
    const ProgramRun raw =
        linewood({"clusters", sample().input().string(), "--out", sample().path("f.gpkg")});
    EXPECT_EQ(raw.exit_code, 1);
    EXPECT_THAT(raw.err, HasSubstr("linewood assess"));
}

TEST(ClustersCommand, AnInterruptLeavesNothing) {
    const TempDir folder{fast_place()};
    const std::string out = (folder / "out.gpkg").string();
    RunningProgram program{linewood_program(),
                           {"clusters",
                            sample().output().string(),
                            "--out",
                            out,
                            "--page",
                            (folder / "page.html").string(),
                            "--replicates",
                            "99999"}};
    while (!program.ended() && folder.names().empty()) {
        std::this_thread::sleep_for(std::chrono::milliseconds{1});
    }
    program.send(SIGINT);
    const ProgramRun run = program.wait();
    EXPECT_EQ(run.exit_code, 1) << run.out;
    EXPECT_THAT(run.err, HasSubstr("nothing was written"));
    EXPECT_THAT(folder.names(), ElementsAre());
}

}  // namespace
}  // namespace linewood::testing
