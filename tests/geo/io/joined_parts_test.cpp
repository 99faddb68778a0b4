#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

namespace linewood {
namespace {

using ::testing::Contains;
using testing::copy_dataset;
using ::testing::ElementsAre;
using ::testing::Not;
using testing::read_lines;
using ::testing::SizeIs;
using testing::TempDir;

/// Poles of every type of column, the second and the last without a place, and the tool's `run` layer beside.
Source odd_poles(const TempDir& dir) {
    dir.file("in.geojson",
             R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"pole_id":"A","n":1,"r":0.5,"yes":true,"day":"2024-05-01","x":7},
 "geometry":{"type":"Point","coordinates":[1,2]}},
{"type":"Feature","properties":{"pole_id":"=B","n":-2,"r":1e-9,"yes":false,"day":null,"x":8},"geometry":null},
{"type":"Feature","properties":{"pole_id":"C","n":3,"r":null,"yes":null,"day":"2024-05-03","x":9},
 "geometry":{"type":"Point","coordinates":[3,4]}},
{"type":"Feature","properties":{"pole_id":"D, \"d\"","n":null,"r":2.25,"yes":true,"day":"2024-05-04","x":null},
 "geometry":null}]})");
    testing::make_dataset(
        dir / "in.gpkg", testing::content_of(dir / "in.geojson"), {"-f", "GPKG", "-nln", "poles"});
    testing::make_dataset(
        dir / "in.gpkg",
        R"({"type":"FeatureCollection","features":[{"type":"Feature","properties":{"item":"tool"},"geometry":null}]})",
        {"-f", "GPKG", "-update", "-nln", "run", "-nlt", "NONE"});
    return Source::open((dir / "in.gpkg").string());
}

TEST(JoinedParts, RowsWithoutGeometryComeBackWithTheirLayer) {
    const TempDir dir;
    const Source source = odd_poles(dir);
    OutputOptions options;
    options.spatial_index = false;
    copy_dataset(source, dir / "out", OutputFormat::flatgeobuf, options);
    ASSERT_THAT(dir.names("out"), Contains("poles_nogeom.csv"));
    const Source again = Source::open((dir / "out").string());
    EXPECT_THAT(again.layer_names(), Not(Contains("poles_nogeom")));
    EXPECT_THAT(again.files("poles"), SizeIs(2));

    // The file with geometries first, then the others; what the values are is what they were.
    std::vector<std::string> expected = read_lines(source, "poles");
    ASSERT_THAT(expected, SizeIs(4));
    std::swap(expected[1], expected[2]);
    std::vector<std::string> read = read_lines(again, "poles");
    for (auto* lines : {&expected, &read}) {
        for (std::string& line : *lines) {
            line.erase(0, line.find(';'));  // the FID is the format's
        }
    }
    EXPECT_EQ(read, expected);
    EXPECT_EQ(again.schema("poles").fields.at(1).type, source.schema("poles").fields.at(1).type);
}

TEST(JoinedParts, EveryFeatureHasANumberOfItsOwn) {
    const TempDir dir;
    copy_dataset(odd_poles(dir), dir / "out", OutputFormat::flatgeobuf);
    const Source again = Source::open((dir / "out").string());
    FeatureReader reader{again, "poles", ReadOptions{.batch_size = 1}};
    FeatureBatch batch;
    std::vector<std::int64_t> fids;
    std::vector<std::int64_t> rows;
    while (reader.next(batch)) {
        fids.push_back(batch.fid(0));
        rows.push_back(batch.first_row());
    }
    EXPECT_THAT(fids, ElementsAre(0, 1, 2, 3));
    EXPECT_THAT(rows, ElementsAre(0, 1, 2, 3));
}

TEST(JoinedParts, AShapefilesOtherGeometriesComeBackToo) {
    const TempDir dir;
    dir.file("shapes/poles.csv",
             "id,wkt\nA,POINT (1 2)\nB,\"LINESTRING (0 0,1 1)\"\nC,POINT (3 4)\n"
             "D,\"GEOMETRYCOLLECTION (POINT (5 6),LINESTRING (0 0,1 1))\"\n");
    dir.file("shapes/run.csv", "item,value\ntool,x\n");
    const Source source = Source::open((dir / "shapes").string());
    copy_dataset(source, dir / "out", OutputFormat::shapefile, {}, [](LayerPlan& plan) {
        if (plan.name == "poles") {
            plan.geometry = {GeometryKind::point, false, false, false};
        }
    });
    const Source again = Source::open((dir / "out").string());
    FeatureReader reader{again, "poles"};
    FeatureBatch batch;
    std::vector<std::string> read;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            read.push_back(batch.text(row, 0) + (batch.has_geometry(row) ? "+" : "-"));
        }
    }
    EXPECT_THAT(read, ElementsAre("A+", "C+", "B+", "D+"));
}

TEST(JoinedParts, PartsOfALayerOfMixedGeometryAreOneLayerAgain) {
    const TempDir dir;
    dir.file("shapes/poles.csv",
             "id,wkt\nA,POINT (1 2)\nB,\"LINESTRING (0 0,1 1)\"\nC,\nD,POINT (3 4)\n");
    dir.file("shapes/run.csv", "item,value\ntool,x\n");
    const Source source = Source::open((dir / "shapes").string());
    ASSERT_EQ(source.schema("poles").geometry.kind, GeometryKind::mixed);
    copy_dataset(source, dir / "out", OutputFormat::shapefile);
    EXPECT_THAT(dir.names("out"), Not(Contains("poles.shp")));  // no file has the layer's own name
    const Source again = Source::open((dir / "out").string());
    EXPECT_THAT(again.layer_names(), Contains("poles"));
    EXPECT_THAT(again.layer_names(), Not(Contains("poles_point")));
    EXPECT_EQ(again.schema("poles").geometry.kind, GeometryKind::mixed);
    FeatureReader reader{again, "poles"};
    FeatureBatch batch;
    std::vector<std::string> read;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            read.push_back(batch.text(row, 0) + (batch.has_geometry(row) ? "+" : "-"));
        }
    }
    EXPECT_THAT(read, ::testing::UnorderedElementsAre("A+", "B+", "C-", "D+"));
}

TEST(JoinedParts, OnlyInAFolderThatTheToolWrote) {
    const TempDir dir;
    copy_dataset(odd_poles(dir), dir / "out", OutputFormat::flatgeobuf);
    std::filesystem::remove(dir / "out/fields.csv");
    const Source again = Source::open((dir / "out").string());
    EXPECT_THAT(again.layer_names(), Contains("poles_nogeom"));
    EXPECT_THAT(read_lines(again, "poles"), SizeIs(2));
}

}  // namespace
}  // namespace linewood
