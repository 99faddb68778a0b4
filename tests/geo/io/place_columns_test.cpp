#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/place_names.h"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// Places of tables, CSV and spreadsheets alike: which columns they are, where they are written, and that those
// written are those read.

namespace linewood {
namespace {

using testing::copy_dataset;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using testing::make_dataset;
using testing::TempDir;

using Names = std::vector<std::string>;

std::string found(const Names& names) {
    const auto places = place_columns(names);
    return !places         ? "none"
           : places->shape ? names[places->x]
                           : names[places->x] + " " + names[places->y];
}

TEST(PlaceColumns, AreFoundByTheirNames) {
    EXPECT_EQ(found({"id", "X", "y"}), "X y");
    EXPECT_EQ(found({"Latitude", "Longitude"}), "Longitude Latitude");
    EXPECT_EQ(found({"x", "y", "the_geom"}), "the_geom");
    EXPECT_EQ(found({"x", "lat"}), "none");
    EXPECT_EQ(found({}), "none");
}

TEST(PlaceColumns, ThoseTheToolNamedGoFirst) {
    EXPECT_EQ(found({"x", "y", "lon", "lat"}), "x y");
    EXPECT_EQ(found({"x", "y", "geom_lon", "geom_lat"}), "geom_lon geom_lat");
    EXPECT_EQ(found({"wkt", "geom_x", "geom_y", "x", "y"}), "geom_x geom_y");
    EXPECT_EQ(found({"x", "geom_x", "y", "geom_y", "geom_geom_x", "geom_geom_y"}),
              "geom_geom_x geom_geom_y");
}

TEST(PlaceColumns, NewOnesAreNamedSoThatTheyAreFound) {
    EXPECT_THAT(free_place_names({"x", "y"}, {"a"}), ElementsAre("x", "y"));
    EXPECT_THAT(free_place_names({"x", "y"}, {"Y"}), ElementsAre("geom_x", "geom_y"));
    EXPECT_THAT(free_place_names({"lon", "lat"}, {"x", "y"}), ElementsAre("geom_lon", "geom_lat"));
    EXPECT_THAT(free_place_names({"x", "y"}, {"geometry"}), ElementsAre("geom_x", "geom_y"));
    EXPECT_THAT(free_place_names({"wkt"}, {"geom"}), ElementsAre("wkt"));
    EXPECT_THAT(free_place_names({"wkt"}, {"geom_x", "geom_y"}), ElementsAre("geom_wkt"));
}

struct Table {
    const char* name;
    OutputFormat format;
    const char* kind;
};

class PlacesOfTables : public ::testing::TestWithParam<Table> {
protected:
    Source written(const Source& from, OutputOptions options = {}) {
        copy_dataset(from, dir_ / "out", GetParam().format, options);
        return Source::open((dir_ / "out" / (std::string{"poles"} + GetParam().kind)).string());
    }
    /// What a spreadsheet program would make of these rows.
    Source table(const std::string& csv) {
        const auto text = dir_.file("poles.csv", csv);
        if (GetParam().format == OutputFormat::csv) {
            return Source::open(text.string());
        }
        const std::string path = (dir_ / (std::string{"poles"} + GetParam().kind)).string();
        int status = 0;
        const std::string said =
            testing::run("ogr2ogr -oo AUTODETECT_TYPE=YES -f " + std::string{GetParam().name} +
                             " " + path + " " + text.string(),
                         &status);
        EXPECT_EQ(status, 0) << said;
        return Source::open(path);
    }

    TempDir dir_;
};

std::vector<std::string> places_of(const Source& source, std::string* damage = nullptr) {
    FeatureReader reader{source, source.layer_names().front()};
    std::vector<std::string> places;
    FeatureBatch batch;
    while (reader.next(batch)) {
        for (std::size_t row = 0; row < batch.size(); ++row) {
            places.push_back(batch.geometry_text(row));
            for (const RowDamage& d : batch.damage(row)) {
                if (damage != nullptr) {
                    *damage += std::to_string(row) + " " + d.field + "=" + d.value + ";";
                }
            }
        }
    }
    return places;
}

constexpr const char* kTwo = R"json({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"pole_id":"007","x":1.5,"y":2,"wkt":"POINT (9 9)"},
 "geometry":{"type":"Point","coordinates":[-122.25,45.5]}},
{"type":"Feature","properties":{"pole_id":"008"},"geometry":null}]})json";

/// Beside columns of the user's that are called like places, and in another system than theirs.
TEST_P(PlacesOfTables, ComeBackWithTheirSystem) {
    const Source in =
        Source::open(make_dataset(dir_ / "in.gpkg", kTwo, {"-nln", "poles"}).string());
    const Source out = written(in);
    EXPECT_THAT(places_of(out), ElementsAre("POINT (-122.25 45.5)", ""));
    EXPECT_THAT(out.schema("poles").crs_wkt, HasSubstr("WGS 84"));
    EXPECT_THAT(testing::content_of(dir_ / "out" / "poles.prj"), HasSubstr("GEOGCS"));
}

TEST_P(PlacesOfTables, ComeBackFromAnotherSystemToo) {
    OutputOptions options;
    options.crs = "EPSG:32610";
    const Source out = written(
        Source::open(make_dataset(dir_ / "in.gpkg", kTwo, {"-nln", "poles"}).string()), options);
    EXPECT_THAT(out.schema("poles").crs_wkt, HasSubstr("UTM zone 10N"));
    EXPECT_THAT(places_of(out).front(), HasSubstr("POINT (558595.07"));
}

TEST_P(PlacesOfTables, LinesComeBackFromText) {
    constexpr const char* kLine = R"({"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"span_id":"1"},
 "geometry":{"type":"LineString","coordinates":[[0,1],[2.5,3.5]]}}]})";
    const Source out =
        written(Source::open(make_dataset(dir_ / "in.gpkg", kLine, {"-nln", "poles"}).string()));
    EXPECT_THAT(places_of(out), ElementsAre("LINESTRING (0 1,2.5 3.5)"));
}

TEST_P(PlacesOfTables, CellsThatAreNonePlaceNothingAndAreSaid) {
    const Source in = table("pole_id,easting,northing\nA,10,20\nB,here,30\nC,,5\nD,7.5,8.5\n");
    std::string damage;
    EXPECT_THAT(places_of(in, &damage), ElementsAre("POINT (10 20)", "", "", "POINT (7.5 8.5)"));
    EXPECT_EQ(damage, "1 easting=here;");
    EXPECT_TRUE(in.schema("poles").crs_wkt.empty());
}

TEST_P(PlacesOfTables, TextThatIsNoShapeIsSaid) {
    std::string damage;
    EXPECT_THAT(
        places_of(table("pole_id,wkt\nA,POINT (1 2)\nB,POINT (1\nC,\nD,somewhere\n"), &damage),
        ElementsAre("POINT (1 2)", "", "", ""));
    EXPECT_EQ(damage, "1 wkt=POINT (1;3 wkt=somewhere;");
}

/// Columns called like what OGR calls the geometry, or like another column: only one of them is asked for.
TEST_P(PlacesOfTables, NamesThatComeTwiceTakeNothingAway) {
    const Source in = table("pole_id,x,y,OGR_GEOMETRY,POLE_ID\nA,10,20,none,Z\n");
    ReadOptions options;
    options.columns = std::vector<std::size_t>{0};
    FeatureReader reader{in, "poles", options};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.text(0, 0), "A");
    EXPECT_EQ(batch.geometry_text(0), "POINT (10 20)");
}

TEST_P(PlacesOfTables, ColumnsNotAskedForStillPlaceTheRows) {
    const Source in = table("pole_id,x,y\nA,10,20\n");
    ReadOptions options;
    options.columns = std::vector<std::size_t>{0};
    FeatureReader reader{in, "poles", options};
    FeatureBatch batch;
    ASSERT_TRUE(reader.next(batch));
    EXPECT_EQ(batch.geometry_text(0), "POINT (10 20)");
}

INSTANTIATE_TEST_SUITE_P(,
                         PlacesOfTables,
                         ::testing::Values(Table{"CSV", OutputFormat::csv, ".csv"},
                                           Table{"XLSX", OutputFormat::xlsx, ".xlsx"},
                                           Table{"ODS", OutputFormat::ods, ".ods"}),
                         [](const auto& table) { return std::string{table.param.name}; });

}  // namespace
}  // namespace linewood
