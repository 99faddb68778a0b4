#include <cstdlib>
#include <fstream>
#include <regex>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/assess_program.hpp"

// The commands of the README, pasted as they stand into a fresh folder.

namespace linewood::testing {
namespace {

/// The text of a section, from its heading to the next of the same rank or a higher one.
std::string section_of_readme(const std::string& heading) {
    const std::string text = content_of(test_file("../README.md"));
    const auto begin = text.find("\n" + heading + "\n");
    if (begin == std::string::npos) {
        return {};
    }
    const auto end = text.find("\n## ", begin + 1);
    return text.substr(begin, end - begin);
}

/// The blocks of one language, in order.
std::vector<std::string> blocks(const std::string& text, const std::string& language) {
    std::vector<std::string> all;
    const std::string open = "```" + language + "\n";
    for (auto at = text.find(open); at != std::string::npos; at = text.find(open, at + 1)) {
        const auto begin = at + open.size();
        all.push_back(text.substr(begin, text.find("```", begin) - begin));
    }
    return all;
}

/// A folder that looks like a built checkout.
class Checkout {
public:
    Checkout() {
        std::filesystem::create_directory(folder_ / "build");
        std::filesystem::create_symlink(linewood_program(), folder_ / "build" / "linewood");
        std::filesystem::create_symlink(
            std::filesystem::path{sample_file("sample.gpkg")}.parent_path(),
            folder_ / "sample-gis");
    }

    const TempDir& folder() const { return folder_; }
    /// In this folder, ended by the first command that fails.
    ProgramRun paste(const std::string& commands) const {
        return run_program_file(
            "/bin/bash",
            {"-ec", "cd '" + folder_.path().string() + "'; exec </dev/null; " + commands});
    }

private:
    TempDir folder_{fast_place()};
};

/// Layers of other names for the examples.
void write_foreign_layers(const Checkout& here) {
    here.folder().file(
        "assets.csv",
        "NUM,LEN,DIA,MAT,STATE,wkt\n001,12,320,W,there,POINT (0 0)\n002,12,300,S,there,POINT (0 "
        "50)\n003,11,n/a,W,gone,POINT (0 100)\n");
    here.folder().file("poles.csv",
                       "POLE_NO,LEN_M,MATERIAL,wkt\n001,12,wood,POINT (0 0)\n002,12,steel,POINT (0 "
                       "50)\n003,11,wood,POINT (0 100)\n");
    here.folder().file("mv.csv", "span_id,wkt\nA,\"LINESTRING (0 0,0 50)\"\n");
    here.folder().file("lv.csv", "span_id,wkt\nB,\"LINESTRING (0 0,20 0)\"\n");
    here.folder().file(
        "visits.csv",
        "POLE,WHEN,GIRTH,DIA,pocket_1_width,pocket_1_depth,pocket_2_width,pocket_2_depth,pocket_3_"
        "width,pocket_3_depth,pocket_4_width,pocket_4_depth\n"
        "001,03.04.2024,98,,60,25,0,0,0,0,0,0\n002,15.04.2024,,30,0,0,0,0,0,0,0,0\n");
    const ProgramRun run = here.paste(
        "ogr2ogr -f GPKG -a_srs EPSG:32610 -nln SUPPORTS assets.gpkg assets.csv;"
        "ogr2ogr -f FlatGeobuf -a_srs EPSG:32610 mv.fgb mv.csv;"
        "ogr2ogr -f FlatGeobuf -a_srs EPSG:32610 lv.fgb lv.csv;"
        "ogr2ogr -f 'ESRI Shapefile' -a_srs EPSG:32610 poles.shp poles.csv;"
        "cp sample-gis/sample.gpkg delivery.gpkg");
    ASSERT_EQ(run.exit_code, 0) << run.err;
}

/// describe, draft, job, assess --job: as they follow each other there.
TEST(Readme, YourOwnLayers) {
    const std::string section = section_of_readme("## Your own layers");
    const auto commands = blocks(section, "sh");
    ASSERT_EQ(commands.size(), 1U);
    const Checkout here;
    ASSERT_NO_FATAL_FAILURE(write_foreign_layers(here));
    const ProgramRun run = here.paste(commands.front());
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    EXPECT_TRUE(std::filesystem::exists(here.folder() / "condition.gpkg"));
}

TEST(Readme, TheJobFileThere) {
    const auto jobs = blocks(section_of_readme("## Your own layers"), "json");
    ASSERT_EQ(jobs.size(), 1U);
    const Checkout here;
    ASSERT_NO_FATAL_FAILURE(write_foreign_layers(here));
    here.folder().file("job.json", jobs.front());
    const ProgramRun check = here.paste("build/linewood job check job.json");
    EXPECT_EQ(check.exit_code, 0) << check.out << check.err;
    const ProgramRun run =
        here.paste("build/linewood assess --job job.json --out condition.gpkg --strict");
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    const std::vector<Row> poles = read_table(here.folder() / "condition.gpkg", "poles").rows;
    ASSERT_EQ(poles.size(), 2U);  // the third is gone
    EXPECT_EQ(poles.front().at("original_source"), "recorded");
}

/// Everything that stands alone: the first run, into the input itself, the network, the findings, the styles.
TEST(Readme, CommandsThatNeedTheSampleAlone) {
    const Checkout here;
    std::string first;
    for (const std::string& block : blocks(section_of_readme("## A run to paste"), "sh")) {
        // Building is what has been done to come here.
        first += block.find("sample-gis/run") == std::string::npos ? block : "";
    }
    ASSERT_NE(first.find("linewood assess"), std::string::npos);
    ProgramRun run = here.paste(first);
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    run = here.paste(
        "cp sample-gis/sample.gpkg network.gpkg; build/linewood assess network.gpkg "
        "--in-place --quiet");
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    const std::string out = section_of_readme("## What comes out");
    EXPECT_NE(out.find("build/linewood assess network.gpkg --in-place\n"), std::string::npos);
    const auto network = blocks(out.substr(out.find("### The network alone")), "sh");
    ASSERT_EQ(network.size(), 1U);
    run = here.paste(network.front());
    EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
    for (const std::string& block : blocks(section_of_readme("## Findings"), "sh")) {
        run = here.paste(block);
        EXPECT_EQ(run.exit_code, 0) << run.out << run.err;
        EXPECT_GT(std::filesystem::file_size(here.folder() / "findings.md"), 10'000U);
    }
    for (const char* const format : {"markdown", "json", "table-schema"}) {
        run = here.paste(std::string{"build/linewood fields --units si --format "} + format);
        EXPECT_EQ(run.exit_code, 0) << run.err;
        EXPECT_NE(run.out.find("remaining_pct"), std::string::npos) << format;
    }
}

}  // namespace
}  // namespace linewood::testing
