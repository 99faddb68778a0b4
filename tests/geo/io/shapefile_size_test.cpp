#include "geo/io/shapefile_size.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/vector_layers.h"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// The 2 GB that a Shapefile's parts may have, by bounds that take no gigabytes to reach.

namespace linewood {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using testing::TempDir;

constexpr const char* kMixed = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"name":"a","n":1,"r":0.5,"day":"2024-02-29","ok":true},
 "geometry":{"type":"LineString","coordinates":[[0,0],[1,1],[2,0]]}},
{"type":"Feature","properties":{"name":"b"},
 "geometry":{"type":"MultiLineString","coordinates":[[[0,0],[1,1]],[[2,2],[3,3],[4,4]]]}},
{"type":"Feature","properties":{"name":"c"},"geometry":null},
{"type":"Feature","properties":{"name":"d"},
 "geometry":{"type":"Polygon","coordinates":[[[0,0],[4,0],[4,4],[0,0]],[[1,0.5],[2,0.5],[2,1],[1,0.5]]]}},
{"type":"Feature","properties":{"name":"e"},"geometry":{"type":"Point","coordinates":[5,6]}}]})";

/// What is counted is at least what is written, and not much more.
TEST(ShapefileSize, CountsTheBytesOfTheFiles) {
    const TempDir dir;
    testing::copy_dataset(
        Source::open(testing::make_dataset(dir / "in.gpkg", kMixed, {"-nln", "poles"}).string()),
        dir / "out",
        OutputFormat::shapefile);
    std::size_t shapes = 0;
    for (const std::string& name : dir.names("out")) {
        if (std::filesystem::path{name}.extension() != ".shp") {
            continue;
        }
        ++shapes;
        const std::string file = (dir / "out" / name).string();
        GDALDatasetUniquePtr dataset{GDALDataset::Open(file.c_str(), GDAL_OF_VECTOR)};
        ASSERT_NE(dataset, nullptr);
        OGRLayer& layer = *dataset->GetLayer(0);
        std::uint64_t shp = 100;
        std::uint64_t rows = 0;
        for (const auto& feature : layer) {
            shp += shp_row_bytes(feature->GetGeometryRef());
            ++rows;
        }
        const auto size = std::filesystem::file_size(file);
        EXPECT_GE(shp, size) << name;
        EXPECT_LE(shp, size + 32 * rows) << name;
        const OGRFeatureDefn& columns = *layer.GetLayerDefn();
        const std::uint64_t head =
            32 + 32 * static_cast<std::uint64_t>(columns.GetFieldCount()) + 1;
        const auto dbf =
            std::filesystem::file_size(std::filesystem::path{file}.replace_extension(".dbf"));
        // GDAL states some columns a digit wider than they are stored.
        const std::uint64_t counted = head + rows * dbf_row_bytes(columns) + 1;
        EXPECT_GE(counted, dbf) << name;
        EXPECT_LE(counted, dbf + 2 * rows + 1) << name;
    }
    EXPECT_EQ(shapes, 3U);
}

/// 2^31 - 1 bytes hold 76,695,840 points of 28 bytes behind a head of 100.
TEST(ShapefileSize, EndsOneByteBelowTwoToThePowerOf31) {
    EXPECT_EQ(kMostShapefileBytes, 2'147'483'647U);
    const OGRPoint point{1, 2};
    EXPECT_EQ(shp_row_bytes(&point), 28U);
    EXPECT_EQ((kMostShapefileBytes - 100) / 28, 76'695'840U);
    OGRFeatureDefn columns{"poles"};
    columns.Reference();
    ShapefileSize size{100 + 3 * 28};
    for (int i = 0; i < 3; ++i) {
        EXPECT_EQ(size.add(&point, columns), "");
    }
    EXPECT_EQ(size.add(&point, columns), ".shp");
    OGRFieldDefn wide{"text", OFTString};
    wide.SetWidth(254);
    columns.AddFieldDefn(&wide);
    ShapefileSize table{32 + 32 + 2 + 2 * 255};
    EXPECT_EQ(table.add(nullptr, columns), "");
    EXPECT_EQ(table.add(nullptr, columns), "");
    EXPECT_EQ(table.add(nullptr, columns), ".dbf");
    columns.Dereference();
}

LayerPlan plan_of_points() {
    LayerPlan plan;
    plan.name = "poles";
    plan.added = {{"note"}};
    plan.geometry.kind = GeometryKind::point;
    return plan;
}

/// Rows up to the bound are taken; the one that would pass it is refused before a byte of it is written.
TEST(ShapefileSize, ARowTooManyIsRefusedBeforeItIsWritten) {
    const TempDir dir;
    std::filesystem::create_directory(dir / "out");
    constexpr std::uint64_t kMost = 2000;
    const auto layer = make_shapefile_layer(dir / "out", plan_of_points(), "OUT", kMost);
    const std::vector<Cell> cells{std::string{"x"}};
    std::string said;
    int rows = 0;
    while (said.empty() && rows < 1000) {
        said = testing::error_of([&] { layer->append(cells, Point{1, 2}); });
        rows += said.empty() ? 1 : 0;
    }
    EXPECT_GT(rows, 10);
    EXPECT_THAT(said,
                AllOf(HasSubstr("OUT"),
                      HasSubstr("2 GB"),
                      HasSubstr("row " + std::to_string(rows + 1)),
                      HasSubstr("--out NAME.gpkg")));
    layer->drop();
    for (const char* const kind : {".shp", ".dbf"}) {
        EXPECT_LE(std::filesystem::file_size(dir / "out" / (std::string{"poles"} + kind)), kMost);
    }
}

}  // namespace
}  // namespace linewood
