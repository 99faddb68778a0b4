#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "geo/io/feature_reader.hpp"
#include "geo/io/output_dataset.hpp"
#include "tests/geo/io/vector_files.hpp"
#include "tests/support/temp_dir.hpp"

// Habits of formats and of their drivers that lose or bend data, one test each; those not here are tested with
// their format (see DEVELOPERS.md).

namespace linewood {
namespace {

using testing::content_of;
using testing::copy_dataset;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using testing::make_dataset;
using ::testing::Not;
using testing::ogr_lines;
using testing::read_lines;
using testing::sql_rows;
using testing::TempDir;

/// One point with these properties, as a GeoPackage with the layer `poles`.
Source one_point(const TempDir& dir,
                 const std::string& properties,
                 const std::vector<std::string>& more = {"-nln", "poles"},
                 const std::string& at = "15.25,58.5") {
    return Source::open(make_dataset(dir / "in.gpkg",
                                     R"({"type":"FeatureCollection","features":[{"type":"Feature",)"
                                     R"("properties":{)" +
                                         properties +
                                         R"(},"geometry":{"type":"Point","coordinates":[)" + at +
                                         "]}}]}",
                                     more)
                            .string());
}

TEST(FormatTraps, ShapefileNamesAreNeverCutAndNumbered) {
    const TempDir dir;
    copy_dataset(one_point(dir, R"("remaining_pct":1,"remaining_pcb":2,"remaining_xxx":3)"),
                 dir / "out",
                 OutputFormat::shapefile);
    const Source out = Source::open((dir / "out").string());
    for (const Field& field : out.schema("poles").fields) {
        EXPECT_THAT(field.name, Not(::testing::ContainsRegex("_[0-9]$")));
        EXPECT_LE(field.name.size(), 10U);
    }
}

TEST(FormatTraps, ShapefileKeepsTheTimeOfDayAndSaysItsEncoding) {
    const TempDir dir;
    copy_dataset(one_point(dir, R"("seen":"2024-05-01T12:30:00+02:00","name":"木")"),
                 dir / "out",
                 OutputFormat::shapefile);
    EXPECT_THAT(content_of(dir / "out" / "poles.cpg"), HasSubstr("UTF-8"));
    EXPECT_THAT(ogr_lines(dir / "out" / "poles.shp"),
                ElementsAre(::testing::AllOf(HasSubstr("12:30"), HasSubstr("木"))));
}

TEST(FormatTraps, GeoPackageTimesAreUtc) {
    const TempDir dir;
    copy_dataset(one_point(dir, R"("seen":"2024-05-01T12:30:00+02:00")"),
                 dir / "out.gpkg",
                 OutputFormat::geopackage);
    EXPECT_THAT(sql_rows(dir / "out.gpkg", "SELECT seen FROM poles"),
                ElementsAre("2024-05-01T10:30:00.000Z"));
}

TEST(FormatTraps, ADatasetThatIsThereGetsNoLayerUnasked) {
    const TempDir dir;
    const Source in = one_point(dir, R"("a":1)");
    copy_dataset(in, dir / "out.gpkg", OutputFormat::geopackage);
    const std::string before = content_of(dir / "out.gpkg");
    EXPECT_THAT(testing::error_of([&] {
                    copy_dataset(
                        in, dir / "out.gpkg", OutputFormat::geopackage, {}, [](LayerPlan& plan) {
                            plan.name = "other";
                        });
                }),
                HasSubstr("--overwrite"));
    EXPECT_EQ(content_of(dir / "out.gpkg"), before);
}

TEST(FormatTraps, CsvValuesStayTheTextTheyAre) {
    const TempDir dir;
    const Source in = Source::open(dir.file("poles.csv", "pole_id;girth\n007;123,5\n").string());
    EXPECT_THAT(read_lines(in, "poles"), ElementsAre(HasSubstr("007")));
    EXPECT_THAT(read_lines(in, "poles"), ElementsAre(HasSubstr("123,5")));
}

TEST(FormatTraps, CsvHasItsPlacesAndTheirSystem) {
    const TempDir dir;
    OutputOptions options;
    options.crs = "EPSG:3006";
    copy_dataset(one_point(dir, R"("a":1)"), dir / "out", OutputFormat::csv, options);
    EXPECT_THAT(content_of(dir / "out" / "poles.csv"), HasSubstr("a,x,y\r\n"));
    const Source again = Source::open((dir / "out" / "poles.csv").string());
    EXPECT_THAT(again.schema("poles").crs_wkt, HasSubstr("SWEREF99 TM"));
}

TEST(FormatTraps, NoNaNInText) {
    const TempDir dir;
    dir.file("in.csv", "a,wkt\nnan,POINT (1 2)\n");
    const std::string path = (dir / "nan.fgb").string();
    int status = 0;
    const std::string said = testing::run(
        "ogr2ogr -f FlatGeobuf -nln poles -sql \"SELECT CAST(a AS "
        "FLOAT) AS a FROM \\\"in\\\"\" " +
            path + " " + (dir / "in.csv").string(),
        &status);
    ASSERT_EQ(status, 0) << said;
    copy_dataset(Source::open(path), dir / "out", OutputFormat::csv);
    EXPECT_THAT(content_of(dir / "out" / "poles.csv"),
                ::testing::AllOf(HasSubstr("a,"), HasSubstr("\r\n,"), Not(HasSubstr("nan"))));
}

TEST(FormatTraps, GeoJsonSaysNullAndNoSystemAndSevenDecimals) {
    const TempDir dir;
    copy_dataset(
        one_point(dir, R"("a":null,"b":"x")", {"-nln", "poles"}, "15.123456789012,58.987654321098"),
        dir / "out",
        OutputFormat::geojson);
    const std::string text = content_of(dir / "out" / "poles.geojson");
    EXPECT_THAT(text, HasSubstr("\"a\": null"));
    EXPECT_THAT(text, Not(HasSubstr("\"crs\"")));
    EXPECT_THAT(text, HasSubstr("15.1234568, 58.9876543"));
}

TEST(FormatTraps, FlatGeobufDatesAreDates) {
    const TempDir dir;
    copy_dataset(one_point(dir, R"("day":"2024-02-29")"), dir / "out", OutputFormat::flatgeobuf);
    EXPECT_THAT(ogr_lines(dir / "out" / "poles.fgb"), ElementsAre(HasSubstr("2024-02-29;")));
}

/// x is east and y north, whatever order a system states: the first is longitude, the second a plane whose
/// definition begins with northing.
TEST(FormatTraps, CoordinatesAreEastThenNorth) {
    for (const auto& [crs, expected] : {std::pair{"EPSG:4326", "POINT \\(15\\.2"},
                                        std::pair{"EPSG:3006", "POINT \\(5[0-9]{5}"}}) {
        const TempDir dir;
        OutputOptions options;
        options.crs = crs;
        copy_dataset(
            one_point(dir, R"("a":1)"), dir / "out.gpkg", OutputFormat::geopackage, options);
        EXPECT_THAT(ogr_lines(dir / "out.gpkg"), ElementsAre(::testing::ContainsRegex(expected)));
    }
}

/// Names are names: of a layer and a field that would be statements if they stood in SQL as they are.
TEST(FormatTraps, NamesThatWouldBeStatements) {
    const TempDir dir;
    const std::string evil = R"(a"; drop table poles; --)";
    const Source in = one_point(dir, R"("a\"; drop table poles; --":1)", {"-nln", evil});
    ASSERT_THAT(in.layer_names(), ElementsAre(evil));
    for (const auto& [format, target] : {std::pair{OutputFormat::geopackage, "out.gpkg"},
                                         std::pair{OutputFormat::flatgeobuf, "fgb"},
                                         std::pair{OutputFormat::geojson, "geojson"}}) {
        copy_dataset(in, dir / target, format, {}, [](LayerPlan& plan) { plan.name = "poles"; });
        const Source out = Source::open((dir / target).string());
        ASSERT_TRUE(out.has_layer("poles")) << target;
        EXPECT_TRUE(out.schema("poles").field_index(evil)) << target;
        EXPECT_EQ(read_lines(out, "poles").size(), 1U) << target;
    }
}

}  // namespace
}  // namespace linewood
