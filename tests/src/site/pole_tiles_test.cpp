#include "src/site/pole_tiles.hpp"

#include <filesystem>
#include <map>
#include <numeric>
#include <set>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/data_error.hpp"
#include "src/job/job_error.hpp"
#include "tests/geo/tiles/tile_reader.hpp"
#include "tests/places/places.hpp"
#include "tests/src/clusters/assessed_network.hpp"
#include "tests/support/program.hpp"
#include "tests/support/survey.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood::testing {
namespace {

using ::testing::ElementsAre;

class QuietMonitor : public RunMonitor {
public:
    void stage(std::string_view /*name*/, std::int64_t /*total*/) override {}
    void advance(std::int64_t /*steps*/) override {}
    void finish() override {}
};

/// A dataset with a run layer, and the tiles of its poles.
class PoleTiles {
public:
    explicit PoleTiles(const AssessedNetwork& network, const PoleTileOptions& options = {}) {
        network.write(folder_ / "in.gpkg");
        std::filesystem::create_directory(folder_ / "tiles");
        QuietMonitor monitor;
        report_ =
            write_pole_tiles((folder_ / "in.gpkg").string(), folder_ / "tiles", options, monitor);
    }
    const TileReport& report() const { return report_; }
    std::filesystem::path tiles() const { return folder_ / "tiles"; }
    /// Features in their own tiles of a zoom, by row.
    std::map<std::uint64_t, ReadFeature> features(int zoom) const {
        std::map<std::uint64_t, ReadFeature> out;
        for (const auto& entry :
             std::filesystem::recursive_directory_iterator{tiles() / std::to_string(zoom)}) {
            if (!entry.is_regular_file()) {
                continue;
            }
            for (const ReadFeature& f : read_tile(content_of(entry.path())).features) {
                if (f.id && f.x >= 0 && f.x < 4096 && f.y >= 0 && f.y < 4096) {
                    EXPECT_TRUE(out.emplace(*f.id, f).second);
                }
            }
        }
        return out;
    }

private:
    TempDir folder_{fast_place()};
    TileReport report_;
};

std::uint64_t sum(const TileCounts& counts) {
    return std::accumulate(counts.begin(), counts.end(), std::uint64_t{0});
}

AssessedNetwork described_poles() {
    AssessedNetwork network;
    const char* const verdicts[] = {"serviceable", "treat", "stub", "replace", "unassessed"};
    for (int i = 0; i < 5; ++i) {
        network.add_pole("P" + std::to_string(i),
                         40.0 * i,
                         0.0,
                         verdicts[i],
                         {{"circuit", i == 4 ? Row(nullptr) : Row("N7")},
                          {"count", i},
                          {"height", 10.5 + i},
                          {"far", i % 2 == 0},
                          {"inspected_on", "2024-05-0" + std::to_string(i + 1)}});
    }
    network.poles.types["far"] = "boolean";
    return network;
}

TEST(PoleTiles, HoldEveryPoleWithItsRowAndItsWords) {
    const PoleTiles made{described_poles()};
    EXPECT_EQ(made.report().first_zoom(), 0);
    EXPECT_EQ(made.report().last_zoom(), 12);
    EXPECT_EQ(made.report().placed(), 5U);
    EXPECT_THAT(made.report().poles, ElementsAre(1, 1, 1, 1, 1));
    for (const ZoomTally& zoom : made.report().zooms) {
        EXPECT_TRUE(zoom.complete());
        const auto features = made.features(zoom.zoom);
        ASSERT_EQ(features.size(), 5U);
        EXPECT_EQ(features.at(3).text("pole_id"), "P3");
        EXPECT_EQ(features.at(3).text("verdict"), "replace");
        EXPECT_EQ(features.at(3).properties.size() > 2, zoom.zoom >= 12);
    }
    const auto full = made.features(12);
    EXPECT_EQ(full.at(1).text("circuit"), "N7");
    EXPECT_EQ(full.at(4).properties.count("circuit"), 0U) << "null is not there";
    EXPECT_EQ(full.at(1).number("height"), 11.5);
    EXPECT_EQ(full.at(1).number("count"), 1.0);
    EXPECT_EQ(std::get<bool>(full.at(2).properties.at("far")), true);
    EXPECT_EQ(full.at(1).text("inspected_on"), "2024-05-02");
}

TEST(PoleTiles, HoldTheFieldsAskedFor) {
    PoleTileOptions options;
    options.fields = {"Circuit"};
    const PoleTiles made{described_poles(), options};
    const auto full = made.features(12);
    EXPECT_EQ(full.at(0).properties.size(), 3U);
    EXPECT_EQ(full.at(0).text("Circuit"), "N7");
    options.fields = {"circiut"};
    EXPECT_THROW((PoleTiles{described_poles(), options}), JobError);
}

TEST(PoleTiles, CountPolesThatAreOnNoMap) {
    AssessedNetwork network;
    network.poles.crs = "EPSG:4326";
    network.x0 = 0.0;
    network.y0 = 0.0;
    network.add_pole("A", -120.0, 45.0, "replace");
    network.add_pole("B", 10.0, 89.0, "stub");
    network.add_pole("C", 10.0, -85.2, "treat");
    network.add_pole("D", 0.0, 0.0, "replace").at("@path") = nullptr;
    network.poles.rows.back().erase("@path");
    const PoleTiles made{network};
    EXPECT_EQ(made.report().placed(), 1U);
    EXPECT_THAT(made.report().without_place, ElementsAre(1, 0, 0, 0, 0));
    EXPECT_THAT(made.report().beyond_mercator, ElementsAre(0, 1, 0, 1, 0));
    EXPECT_EQ(made.features(12).at(0).text("pole_id"), "A");
}

TEST(PoleTiles, GoDeeperUntilEveryPoleHasRoom) {
    AssessedNetwork network;
    for (int i = 0; i < 400; ++i) {
        network.add_pole("P" + std::to_string(i),
                         60.0 * (i % 20),
                         60.0 * (i / 20),
                         i % 4 == 0 ? "replace" : "serviceable");
    }
    PoleTileOptions options;
    options.limits.features = 90;
    const PoleTiles made{network, options};
    EXPECT_GT(made.report().last_zoom(), 12);
    EXPECT_TRUE(made.report().zooms.back().complete());
    EXPECT_EQ(made.features(made.report().last_zoom()).size(), 400U);
    const ZoomTally& low = made.report().zooms.front();
    EXPECT_EQ(low.kept[0] + low.counted[0], 100U) << "none of those to be replaced is lost";
    EXPECT_GT(low.counted[0], 0U);
    for (const ZoomTally& zoom : made.report().zooms) {
        EXPECT_EQ(sum(zoom.kept) + sum(zoom.counted) + sum(zoom.left_out), 400U);
    }
}

TEST(PoleTiles, CutTextsThatWouldFillATile) {
    AssessedNetwork network;
    std::string note;
    for (int i = 0; i < 1500; ++i) {
        note += "\xE6\x9C\xA8";
    }
    network.add_pole("A", 0.0, 0.0, "replace", {{"notes", note}});
    const PoleTiles made{network};
    EXPECT_EQ(made.report().cut_texts, 1U);
    const std::string cut = made.features(12).at(0).text("notes");
    EXPECT_LT(cut.size(), 2010U);
    EXPECT_THAT(cut, ::testing::EndsWith("\xE6\x9C\xA8\xE2\x80\xA6"));
}

TEST(PoleTiles, LeaveNothingElseInTheFolder) {
    const PoleTiles made{described_poles()};
    std::set<std::string> names;
    for (const auto& entry : std::filesystem::directory_iterator{made.tiles()}) {
        names.insert(entry.path().filename().string());
    }
    EXPECT_EQ(names.size(), 13U);
    EXPECT_EQ(names.count("0"), 1U);
    EXPECT_EQ(names.count("12"), 1U);
}

TEST(PoleTiles, AreRefusedWithoutACoordinateSystemOrAnAssessment) {
    AssessedNetwork network = described_poles();
    network.poles.crs = "";
    EXPECT_THROW(PoleTiles{network}, DataError);
    const TempDir folder;
    write_survey(folder / "in.gpkg", five_poles());
    QuietMonitor monitor;
    EXPECT_THROW(write_pole_tiles((folder / "in.gpkg").string(), folder.path(), {}, monitor),
                 DataError);
}

/// What the reader of tests/tiles should print of these tiles.
std::string expected_lines(const TileReport& report) {
    std::string out;
    for (const ZoomTally& z : report.zooms) {
        for (const std::uint64_t figure : {static_cast<std::uint64_t>(z.zoom),
                                           z.tiles,
                                           z.bytes,
                                           sum(z.kept),
                                           sum(z.counted),
                                           z.kept[0]}) {
            out += (out.empty() || out.back() == '\n' ? "" : " ") + std::to_string(figure);
        }
        out += "\n";
    }
    return out;
}

TEST(slow_PoleTiles, AreReadByTheLibraryOfMapPages) {
    AssessedNetwork network;
    const char* const verdicts[] = {"replace", "serviceable", "treat", "stub", "unassessed"};
    for (int i = 0; i < 20000; ++i) {
        network.add_pole("P-" + std::to_string(i) + " <b>\xE6\x9C\xA8",
                         35.0 * (i % 500),
                         60.0 * (i / 500),
                         verdicts[i % 5],
                         {{"notes", "note " + std::to_string(i)}, {"height", 9.75 + i % 7}});
    }
    PoleTileOptions options;
    options.limits = {6000, 90000};
    const PoleTiles made{network, options};
    EXPECT_GT(made.report().zooms.front().counted[0], 0U);
    const ProgramRun run =
        run_program_file("/bin/bash", {test_file("tiles/run"), made.tiles().string()});
    EXPECT_EQ(run.exit_code, 0) << run.err;
    EXPECT_EQ(run.out, expected_lines(made.report()));
}

}  // namespace
}  // namespace linewood::testing
